import { z } from 'zod';
import { parseFraction } from './exactScale.ts';

/** The words of a pad description that are more than JSON's own: hex, UUIDs, exact scales. */

/** A whole number, or its hex text ("0xff"). */
export const wholeNumber = (least: number, most: number) =>
  z.preprocess(
    (value) =>
      typeof value === 'string' && /^0x[0-9a-f]{1,8}$/i.test(value) ? Number(value) : value,
    z
      .number()
      .refine(
        (value) => Number.isInteger(value) && value >= least && value <= most,
        `write a whole number from ${least} to ${most}`,
      ),
  );

const BASE_UUID = /^0000([0-9a-f]{4})00001000800000805f9b34fb$/;

/** A UUID in any usual spelling; kept lower case without dashes, an adopted one as four digits. */
export const uuid = z.preprocess(
  (value) => {
    if (typeof value !== 'string') return value;
    const plain = value.toLowerCase().replace(/^0x/, '').replaceAll('-', '');
    return BASE_UUID.exec(plain)?.[1] ?? plain;
  },
  z
    .string()
    .regex(
      /^(?:[0-9a-f]{4}|[0-9a-f]{32})$/,
      'write a UUID: four hex digits for an adopted one, else thirty-two with or without dashes',
    ),
);

/** One to twenty bytes as hex pairs: what fits the smallest ATT MTU (Bluetooth Core, vol. 3 part F). */
export const hexBytes = z.preprocess(
  (value) =>
    typeof value === 'string'
      ? value
          .toLowerCase()
          .replace(/\s+/g, '')
          .replace(/(..)(?=.)/g, '$1 ')
      : value,
  z
    .string()
    .regex(/^[0-9a-f]{2}(?: [0-9a-f]{2}){0,19}$/, 'write 1 to 20 bytes as hex pairs, as "01 50"'),
);

/** The bytes of parsed hex text. */
export const bytesOfHex = (hex: string): Uint8Array =>
  Uint8Array.from(hex.split(' '), (pair) => Number.parseInt(pair, 16));

/** A positive decimal or fraction, kept as text; a JSON number stands for its shortest decimal. */
export const positiveFraction = z.preprocess(
  (value) => (typeof value === 'number' ? String(value) : value),
  z
    .string()
    .refine(
      (text) => parseFraction(text) !== null,
      'write a number above 0 as a decimal, as "0.005", or a fraction, as "1/3", of at most 12 digits each side',
    ),
);

/** One line of text that can be read. */
export const printable = (least: number, most: number) =>
  z
    .string()
    .refine(
      (text) =>
        text.trim() === text &&
        text.length >= least &&
        text.length <= most &&
        !/[\p{C}\p{Zl}\p{Zp}]/u.test(text),
      `write one line of ${least} to ${most} characters, no blanks at its ends`,
    );
