import { crc32 } from 'node:zlib';

/**
 * A record's text as it was stored has its CRC-32 (ISO 3309, as zlib has it) beside it: SQLite has
 * no checksum over its pages, and a flipped bit of a digit is a number like any other.
 */
export const checksumOf = (text: string): number => crc32(text);

/**
 * The text, where it is what was stored. Null is no checksum: the record was made before there were
 * any. Throws RangeError where it is not.
 */
export const verified = (text: string, stored: number | null): string => {
  if (stored !== null && crc32(text) !== stored)
    throw new RangeError('it does not match its checksum');
  return text;
};
