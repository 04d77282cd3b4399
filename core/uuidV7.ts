/**
 * UUID version 7 (RFC 9562, section 5.7): 48 bits of Unix time in milliseconds, then randomness,
 * so that keys made apart never collide and keys made one after another sort by time. The clock and
 * the randomness are handed in.
 */

const MAX_MS = 2 ** 48 - 1;
/** rand_a is used as a counter of 12 bits (RFC 9562, section 6.2, method 1). */
const COUNTER_MAX = 0xfff;

/**
 * The UUID of a time (ms since 1970 UTC, whole) and ten bytes: the low 12 bits of the first two
 * become rand_a, the low 62 bits of the other eight rand_b. Throws RangeError on a time outside
 * 48 bits or on fewer bytes.
 */
export const uuidV7 = (unixMs: number, bytes: Uint8Array): string => {
  if (!Number.isInteger(unixMs) || unixMs < 0 || unixMs > MAX_MS)
    throw new RangeError(`not a time of 48 bits in ms: ${unixMs}`);
  if (bytes.length < 10) throw new RangeError(`ten bytes are needed, not ${bytes.length}`);
  const rest = Uint8Array.from(bytes.subarray(0, 10));
  rest[0] = 0x70 | ((rest[0] ?? 0) & 0x0f);
  rest[2] = 0x80 | ((rest[2] ?? 0) & 0x3f);
  const hex =
    unixMs.toString(16).padStart(12, '0') +
    Array.from(rest, (byte) => byte.toString(16).padStart(2, '0')).join('');
  return [
    hex.slice(0, 8),
    hex.slice(8, 12),
    hex.slice(12, 16),
    hex.slice(16, 20),
    hex.slice(20),
  ].join('-');
};

/**
 * Makes a source of UUIDv7 that always ascend, also within a millisecond and when the wall clock
 * is set back: rand_a counts up from a random start whose top bit is left clear as room to count.
 */
export const createIdMaker = (from: {
  readonly wallClock: () => number;
  readonly randomBytes: (count: number) => Uint8Array;
}): (() => string) => {
  let last = -1;
  let counter = 0;
  return () => {
    const bytes = Uint8Array.from(from.randomBytes(10));
    const start = (((bytes[0] ?? 0) & 0x07) << 8) | (bytes[1] ?? 0);
    const now = Math.floor(from.wallClock());
    if (now > last) {
      last = now;
      counter = start;
    } else if (counter < COUNTER_MAX) {
      counter += 1;
    } else {
      last += 1;
      counter = start;
    }
    bytes[0] = counter >> 8;
    bytes[1] = counter & 0xff;
    return uuidV7(last, bytes);
  };
};
