import type { CharacteristicRef } from './model.ts';

/**
 * Adopted characteristics that any pad model may have beside its own: Device Information 0x180A,
 * Battery 0x180F, Environmental Sensing 0x181A. Bluetooth SIG assigned numbers. Decoders are total:
 * null is "the device does not say".
 */

export const STANDARD = {
  serial: { service: '180a', uuid: '2a25' },
  firmware: { service: '180a', uuid: '2a26' },
  battery: { service: '180f', uuid: '2a19' },
  temperature: { service: '181a', uuid: '2a6e' },
} as const satisfies Record<string, CharacteristicRef>;

/** Absolute zero, °C: exact by definition of the Celsius scale. */
const ABSOLUTE_ZERO = -273.15;
/** Longest value an attribute can have, bytes: Bluetooth Core, vol. 3 part F, 3.2.9. */
const LONGEST_VALUE = 512;

/**
 * Decodes a Device Information string: UTF-8; trailing NULs and spaces, which some firmware sends,
 * are taken off. Null where nothing printable is left or it is no text.
 */
export const decodeText = (bytes: Uint8Array): string | null => {
  if (bytes.length > LONGEST_VALUE) return null;
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
  const trimmed = text.replace(/[\0\s]+$/u, '').trimStart();
  return trimmed === '' || /\p{C}/u.test(trimmed) ? null : trimmed;
};

/** Decodes Battery Level 0x2A19, percent. */
export const decodeBattery = (bytes: Uint8Array): number | null => {
  const level = bytes[0];
  return bytes.length === 1 && level !== undefined && level <= 100 ? level : null;
};

/** Encodes Battery Level, percent, rounded. Throws RangeError outside 0 to 100. */
export const encodeBattery = (percent: number): Uint8Array => {
  if (!(percent >= 0 && percent <= 100)) throw new RangeError(`not a percentage: ${percent}`);
  return Uint8Array.of(Math.round(percent));
};

/** Decodes Temperature 0x2A6E, °C: sint16 in 0.01 °C, 0x8000 unknown. */
export const decodeTemperature = (bytes: Uint8Array): number | null => {
  if (bytes.length !== 2) return null;
  const hundredths = new DataView(bytes.buffer, bytes.byteOffset, 2).getInt16(0, true);
  const celsius = hundredths / 100;
  return hundredths === -0x8000 || celsius < ABSOLUTE_ZERO ? null : celsius;
};

/** Encodes Temperature, °C, rounded to 0.01; null is unknown. Throws RangeError out of range. */
export const encodeTemperature = (celsius: number | null): Uint8Array => {
  const hundredths = celsius === null ? -0x8000 : Math.round(celsius * 100);
  if (celsius !== null && !(celsius >= ABSOLUTE_ZERO && hundredths <= 0x7fff))
    throw new RangeError(`not a temperature of this characteristic: ${celsius}`);
  const bytes = new Uint8Array(2);
  new DataView(bytes.buffer).setInt16(0, hundredths, true);
  return bytes;
};
