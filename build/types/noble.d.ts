/**
 * The entry of the Bluetooth library that takes its own options and shares no global instance. The
 * library's own declarations lack half of what is used here, so the shape is ours:
 * `RadioLibrary` in drivers/pads/transport/radioLibrary.ts.
 */
declare module '@abandonware/noble/with-custom-binding.js' {
  export default function create(options: { readonly extended?: boolean }): unknown;
}
