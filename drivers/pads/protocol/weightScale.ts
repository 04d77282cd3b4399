import { KILOGRAM_PER_POUND, type MassUnit } from '../../../core/units.ts';
import { SAMPLE_FLAGS } from '../../../core/reading.ts';
import type { Decoded, PadModel } from './model.ts';

/**
 * The adopted Weight Scale Service 0x181D with its Weight Measurement 0x2A9D (indicated), Bluetooth
 * SIG, weight_measurement.xml. Little-endian:
 *   0  uint8   flags: bit 0 pounds, 1 time stamp, 2 user, 3 BMI and height, 4-7 reserved
 *   1  uint16  weight, 0.005 kg or 0.01 lb; 65535 is not a weight
 *   then, each if its flag is set: time stamp (7 bytes), user (uint8), BMI (uint16, 0.1),
 *   height (uint16, 0.001 m or 0.1 in).
 *
 * As a pad it has no raw counts, no sequence number and no clock: its counts here are milligrams
 * (rounded, for pounds are no whole number of them), and its samples are placed by arrival.
 */

/** Kilograms (or pounds) end here: 65535 × 0.005 kg is reported as overload, never as a weight. */
const CEILING = 0xffff;
const STEPS_PER_UNIT = { kg: 200, lb: 100 } as const;
const MILLIGRAM_PER_STEP = { kg: 5000, lb: KILOGRAM_PER_POUND * 10_000 } as const;

export interface WeightTimeStamp {
  /** 0 where the scale does not know it, as with month and day. */
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly hours: number;
  readonly minutes: number;
  readonly seconds: number;
}

export interface WeightMeasurement {
  /** The unit in which it was sent. */
  readonly unit: MassUnit;
  /** In that unit, the double nearest to what was sent; the ceiling where `overload`. */
  readonly weight: number;
  readonly overload: boolean;
  readonly timeStamp: WeightTimeStamp | null;
  /** 255 is an unknown user. */
  readonly user: number | null;
  readonly bmi: number | null;
  /** Metre with kg, inch with lb. */
  readonly height: number | null;
}

export type WeightDecoded =
  | { readonly ok: true; readonly measurement: WeightMeasurement; readonly steps: number }
  | { readonly ok: false; readonly why: string };

const lengthFor = (flags: number): number =>
  3 + (flags & 2 ? 7 : 0) + (flags & 4 ? 1 : 0) + (flags & 8 ? 4 : 0);

const isPossible = (t: WeightTimeStamp): boolean =>
  (t.year === 0 || (t.year >= 1582 && t.year <= 9999)) &&
  t.month <= 12 &&
  t.day <= 31 &&
  t.hours <= 23 &&
  t.minutes <= 59 &&
  t.seconds <= 59;

/** Decodes one Weight Measurement; what the layout does not allow is refused with the reason. */
export const decodeWeightMeasurement = (bytes: Uint8Array): WeightDecoded => {
  const flags = bytes[0];
  if (flags === undefined) return { ok: false, why: 'no bytes' };
  if (flags & 0xf0) return { ok: false, why: 'reserved flags are set' };
  if (bytes.length !== lengthFor(flags))
    return { ok: false, why: `${bytes.length} bytes; the flags say ${lengthFor(flags)}` };
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  const unit: MassUnit = flags & 1 ? 'lb' : 'kg';
  const steps = view.getUint16(1, true);
  let at = 3;
  let timeStamp: WeightTimeStamp | null = null;
  if (flags & 2) {
    timeStamp = {
      year: view.getUint16(at, true),
      month: view.getUint8(at + 2),
      day: view.getUint8(at + 3),
      hours: view.getUint8(at + 4),
      minutes: view.getUint8(at + 5),
      seconds: view.getUint8(at + 6),
    };
    if (!isPossible(timeStamp)) return { ok: false, why: 'the time stamp is no date' };
    at += 7;
  }
  const user = flags & 4 ? view.getUint8(at++) : null;
  const hasBody = (flags & 8) !== 0;
  return {
    ok: true,
    steps,
    measurement: {
      unit,
      weight: steps / STEPS_PER_UNIT[unit],
      overload: steps === CEILING,
      timeStamp,
      user,
      bmi: hasBody ? view.getUint16(at, true) / 10 : null,
      height: hasBody ? view.getUint16(at + 2, true) / (unit === 'kg' ? 1000 : 10) : null,
    },
  };
};

/**
 * Encodes one Weight Measurement; a weight between two steps goes to the nearer. Throws RangeError
 * on what the layout cannot say: a load above the ceiling is sent with `overload`, not as a number.
 */
export const encodeWeightMeasurement = (measurement: WeightMeasurement): Uint8Array => {
  const { unit, weight, overload, timeStamp, user, bmi, height } = measurement;
  if ((bmi === null) !== (height === null)) throw new RangeError('BMI and height go together');
  const steps = overload ? CEILING : Math.round(weight * STEPS_PER_UNIT[unit]);
  if (!(steps >= 0 && (overload || steps < CEILING)))
    throw new RangeError(`not a weight of this service: ${weight} ${unit}`);
  const flags =
    (unit === 'lb' ? 1 : 0) |
    (timeStamp ? 2 : 0) |
    (user === null ? 0 : 4) |
    (bmi === null ? 0 : 8);
  const bytes = new Uint8Array(lengthFor(flags));
  const view = new DataView(bytes.buffer);
  view.setUint8(0, flags);
  view.setUint16(1, steps, true);
  let at = 3;
  if (timeStamp) {
    if (!isPossible(timeStamp)) throw new RangeError('the time stamp is no date');
    const { month, day, hours, minutes, seconds } = timeStamp;
    view.setUint16(at, timeStamp.year, true);
    bytes.set([month, day, hours, minutes, seconds], at + 2);
    at += 7;
  }
  if (user !== null) view.setUint8(at++, user);
  if (bmi !== null && height !== null) {
    view.setUint16(at, Math.round(bmi * 10), true);
    view.setUint16(at + 2, Math.round(height * (unit === 'kg' ? 1000 : 10)), true);
  }
  return bytes;
};

/** Decodes one indication as a pad's packet of one sample, in milligrams. */
export const decodeWeightPacket = (bytes: Uint8Array): Decoded => {
  const decoded = decodeWeightMeasurement(bytes);
  if (!decoded.ok) return decoded;
  const { unit, overload } = decoded.measurement;
  return {
    ok: true,
    packet: {
      sequence: null,
      clockMs: null,
      rate: null,
      counts: [Math.round(decoded.steps * MILLIGRAM_PER_STEP[unit])],
      flags: overload ? SAMPLE_FLAGS.overload : 0,
    },
  };
};

export const WEIGHT_SCALE_MODEL: PadModel = {
  name: 'weight-scale',
  title: 'Bluetooth weight scale (adopted service)',
  service: '181d',
  stream: { service: '181d', uuid: '2a9d' },
  decode: decodeWeightPacket,
  // Steps of 5 g hide the converter's noise: a number that stands still is what is expected.
  noisy: false,
  // Many scales indicate only when the weight changes or has settled; common practice, no source.
  silentAfter: 10,
  // The largest weight the characteristic can carry, and milligrams for counts.
  rating: {
    fixed: { ratedLoad: 327.67, countsAtRatedLoad: 327_670_000, resolution: 5000 },
  },
  control: null,
};
