import { crc32 } from 'node:zlib';

/**
 * The raw window of one corner as it lies on the disk: binary64, little-endian, as every machine
 * this runs on (x64, arm64) has it in memory. SQLite has no checksum of its own over its pages, so
 * each window carries one: a flipped bit must not become a load.
 */
export interface WindowBlobs {
  readonly samples: number;
  readonly t: Uint8Array;
  readonly counts: Uint8Array;
  /** CRC-32 (ISO 3309, as zlib has it) over `t` and then `counts`. */
  readonly crc32: number;
}

interface CornerWindow {
  readonly t: number[];
  readonly raw: number[];
}

const bytesOf = (values: readonly number[]): Uint8Array =>
  new Uint8Array(Float64Array.from(values).buffer);

const valuesOf = (bytes: Uint8Array): number[] =>
  // Copied, because a BLOB need not begin at a multiple of eight bytes.
  Array.from(new Float64Array(new Uint8Array(bytes).buffer));

/** Throws RangeError where times and counts do not pair up, or there are none. */
export const windowToBlobs = ({ t, raw }: CornerWindow): WindowBlobs => {
  if (t.length !== raw.length || t.length === 0)
    throw new RangeError(`a window of ${t.length} times and ${raw.length} counts`);
  const times = bytesOf(t);
  const counts = bytesOf(raw);
  return { samples: t.length, t: times, counts, crc32: crc32(counts, crc32(times)) };
};

/** Throws RangeError where the bytes are not those that were stored. */
export const windowFromBlobs = (stored: WindowBlobs): CornerWindow => {
  if (crc32(stored.counts, crc32(stored.t)) !== stored.crc32)
    throw new RangeError('the raw window does not match its checksum');
  return { t: valuesOf(stored.t), raw: valuesOf(stored.counts) };
};
