/** The entry of the Bluetooth library that takes its own options and shares no global instance. */
declare module '@abandonware/noble/with-custom-binding.js' {
  import type noble from '@abandonware/noble';
  export default function create(options: { readonly extended?: boolean }): typeof noble;
}
