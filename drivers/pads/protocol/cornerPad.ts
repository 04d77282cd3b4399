import type { PadRating } from '../../../core/reading.ts';
import type { Decoded, PadCommand, PadModel, Packet } from './model.ts';

/**
 * The open corner-pad profile, version 1. `cornerPadProfile.md` beside this file says the same for
 * people who write firmware; the hex examples there are run as tests.
 *
 * Loads (notify), 10, 13, 16 or 19 bytes, little-endian:
 *   0  uint16  number of the first sample, modulo 65536
 *   2  uint32  pad clock at the first sample, ms, modulo 2^32
 *   6  uint8   status: bit 0 overload, 1 saturated, 2 low battery, 3 restarted,
 *              bits 4-5 rate (0 = 10, 1 = 20, 2 = 40, 3 = 80 Hz), bits 6-7 zero
 *   7  int24   counts of the first sample; up to three more follow
 * Rating (read), 8 bytes: uint8 version = 1, uint8 rates offered (bit 0 = 10 Hz … bit 3 = 80 Hz),
 *   uint16 rated load in 0.1 kg, int32 counts that the rated load adds.
 * Control point (write with response): 01 rate-in-Hz | 02 seconds (identify) | 03 (reset clock).
 */

const uuid = (short: string): string => `8f1d${short}6b0e4c529a375d1c2e7f40b6`;

export const CORNER_PAD_UUIDS = {
  service: uuid('0001'),
  loads: uuid('0002'),
  control: uuid('0003'),
  rating: uuid('0004'),
} as const;

export const CORNER_PAD_RATES = [10, 20, 40, 80] as const;
const HEADER_BYTES = 7;
/** The four low status bits are the first four SAMPLE_FLAGS, bit for bit. */
const FLAG_BITS = 0x0f;

/** Encodes one notification. Throws RangeError on what the layout cannot say. */
export const encodeLoads = (packet: Packet): Uint8Array => {
  const { sequence, clockMs, counts, flags } = packet;
  const rateCode = CORNER_PAD_RATES.findIndex((rate) => rate === packet.rate);
  if (sequence === null || clockMs === null || rateCode < 0)
    throw new RangeError(
      'the corner-pad profile needs a sequence number, a clock and a rate of 10, 20, 40 or 80 Hz',
    );
  if (counts.length < 1 || counts.length > 4)
    throw new RangeError('one to four samples fit a notification');
  const bytes = new Uint8Array(HEADER_BYTES + 3 * counts.length);
  const view = new DataView(bytes.buffer);
  view.setUint16(0, sequence & 0xffff, true);
  view.setUint32(2, clockMs >>> 0, true);
  bytes[6] = (flags & FLAG_BITS) | (rateCode << 4);
  counts.forEach((count, index) => {
    if (!Number.isInteger(count) || count < -0x800000 || count > 0x7fffff)
      throw new RangeError(`not a 24-bit count: ${count}`);
    const at = HEADER_BYTES + 3 * index;
    view.setUint16(at, count & 0xffff, true);
    view.setInt8(at + 2, count >> 16);
  });
  return bytes;
};

/** Decodes one notification. */
export const decodeLoads = (bytes: Uint8Array): Decoded => {
  const samples = (bytes.length - HEADER_BYTES) / 3;
  if (!Number.isInteger(samples) || samples < 1 || samples > 4)
    return { ok: false, why: `${bytes.length} bytes; 10, 13, 16 or 19 were expected` };
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  const status = view.getUint8(6);
  if (status & 0xc0) return { ok: false, why: 'reserved status bits are set' };
  const counts: number[] = [];
  for (let at = HEADER_BYTES; at < bytes.length; at += 3)
    counts.push(view.getUint16(at, true) + view.getInt8(at + 2) * 0x10000);
  return {
    ok: true,
    packet: {
      sequence: view.getUint16(0, true),
      clockMs: view.getUint32(2, true),
      rate: CORNER_PAD_RATES[(status >> 4) & 3] ?? null,
      counts,
      flags: status & FLAG_BITS,
    },
  };
};

/** Encodes the rating for a pad that offers all four rates. Throws RangeError on what does not fit. */
export const encodeRating = (rating: PadRating): Uint8Array => {
  const tenths = Math.round(rating.ratedLoad * 10);
  const added = rating.countsAtRatedLoad;
  if (!(tenths >= 1 && tenths <= 0xffff))
    throw new RangeError(`not a rated load: ${tenths / 10} kg`);
  if (!(Number.isInteger(added) && added >= 1 && added <= 0x7fffffff))
    throw new RangeError(`not counts of a rated load: ${added}`);
  const bytes = new Uint8Array(8);
  const view = new DataView(bytes.buffer);
  bytes[0] = 1;
  bytes[1] = 0x0f;
  view.setUint16(2, tenths, true);
  view.setInt32(4, added, true);
  return bytes;
};

/** Decodes the rating; null where it is of another version or says nothing usable. */
export const decodeRating = (bytes: Uint8Array): PadRating | null => {
  if (bytes.length !== 8 || bytes[0] !== 1) return null;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  const ratedLoad = view.getUint16(2, true) / 10;
  const countsAtRatedLoad = view.getInt32(4, true);
  if (ratedLoad === 0 || countsAtRatedLoad <= 0) return null;
  return { ratedLoad, countsAtRatedLoad, resolution: 1 };
};

/** Encodes a command for the control point. Throws RangeError on a rate the profile lacks. */
export const encodeCommand = (command: PadCommand): Uint8Array => {
  switch (command.do) {
    case 'set rate':
      if (!CORNER_PAD_RATES.some((rate) => rate === command.rate))
        throw new RangeError(`not a rate of the profile: ${command.rate} Hz`);
      return Uint8Array.of(1, command.rate);
    case 'identify':
      return Uint8Array.of(2, Math.max(1, Math.min(255, Math.round(command.seconds))));
    case 'reset clock':
      return Uint8Array.of(3);
  }
};

/** Decodes what was written to the control point, as firmware would; null where it is refused. */
export const decodeCommand = (bytes: Uint8Array): PadCommand | null => {
  const [code, value] = bytes;
  if (code === 1 && bytes.length === 2 && CORNER_PAD_RATES.some((rate) => rate === value))
    return { do: 'set rate', rate: value as number };
  if (code === 2 && bytes.length === 2 && value !== undefined && value > 0)
    return { do: 'identify', seconds: value };
  if (code === 3 && bytes.length === 1) return { do: 'reset clock' };
  return null;
};

export const CORNER_PAD_MODEL: PadModel = {
  name: 'corner-pad',
  title: 'Corner pad (open profile, version 1)',
  service: CORNER_PAD_UUIDS.service,
  stream: { service: CORNER_PAD_UUIDS.service, uuid: CORNER_PAD_UUIDS.loads },
  decode: decodeLoads,
  noisy: true,
  // Twenty missed samples at the slowest rate: more than a burst of losses on a bad link.
  silentAfter: 2,
  rating: {
    from: { service: CORNER_PAD_UUIDS.service, uuid: CORNER_PAD_UUIDS.rating },
    decode: decodeRating,
  },
  control: {
    at: { service: CORNER_PAD_UUIDS.service, uuid: CORNER_PAD_UUIDS.control },
    encode: encodeCommand,
  },
};
