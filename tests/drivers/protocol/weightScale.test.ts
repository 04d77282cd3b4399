import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { SAMPLE_FLAGS } from '../../../core/reading.ts';
import {
  decodeWeightMeasurement,
  decodeWeightPacket,
  encodeWeightMeasurement,
  WEIGHT_SCALE_MODEL,
  type WeightMeasurement,
} from '../../../drivers/pads/protocol/weightScale.ts';
import { sharedData } from '../../support/sharedData.ts';

const VECTORS = sharedData('weight-payload-vectors.json');

const bytesOf = (hex: string): Uint8Array =>
  Uint8Array.from(hex.replaceAll(' ', '').match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));

const plain = { overload: false, timeStamp: null, user: null, bmi: null, height: null };

/**
 * Worked payloads: the layout of Bluetooth SIG weight_measurement.xml; the first four and the sixth
 * are also test vectors of an independent library, the rest computed by hand from the layout.
 */
const WORKED: readonly (readonly [string, WeightMeasurement])[] = [
  ['00 B0 36', { ...plain, unit: 'kg', weight: 70 }],
  ['01 54 3D', { ...plain, unit: 'lb', weight: 157 }],
  [
    '02 B0 36 E7 07 0C 19 0E 1E 2D',
    {
      ...plain,
      unit: 'kg',
      weight: 70,
      timeStamp: { year: 2023, month: 12, day: 25, hours: 14, minutes: 30, seconds: 45 },
    },
  ],
  [
    '0C B0 36 05 F5 00 D6 06',
    { ...plain, unit: 'kg', weight: 70, user: 5, bmi: 24.5, height: 1.75 },
  ],
  ['04 88 13 02', { ...plain, unit: 'kg', weight: 25, user: 2 }],
  [
    '0F 54 3D E7 07 0C 19 0E 1E 2D 03 F5 00 A8 02',
    {
      unit: 'lb',
      weight: 157,
      overload: false,
      timeStamp: { year: 2023, month: 12, day: 25, hours: 14, minutes: 30, seconds: 45 },
      user: 3,
      bmi: 24.5,
      height: 68,
    },
  ],
  ['00 A0 0F', { ...plain, unit: 'kg', weight: 20 }],
  ['00 10 F4', { ...plain, unit: 'kg', weight: 312.4 }],
  ['00 FE FF', { ...plain, unit: 'kg', weight: 327.67 }],
  ['01 A8 61', { ...plain, unit: 'lb', weight: 250 }],
  ['00 FF FF', { ...plain, unit: 'kg', weight: 327.675, overload: true }],
  ['01 FF FF', { ...plain, unit: 'lb', weight: 655.35, overload: true }],
];

describe('worked payloads, both ways', () => {
  for (const [hex, measurement] of WORKED)
    test(hex, () => {
      expect(decodeWeightMeasurement(bytesOf(hex))).toMatchObject({ ok: true, measurement });
      expect(encodeWeightMeasurement(measurement)).toEqual(bytesOf(hex));
    });
});

interface Vector {
  readonly hex: string;
  readonly unit?: 'kg' | 'lb';
  readonly weight?: number;
  readonly expect?: 'reject';
}

VECTORS.describe('payloads of an independent library', () => {
  const families = JSON.parse(readFileSync(VECTORS.file, 'utf8')) as readonly {
    readonly family: string;
    readonly vectors: readonly Vector[];
  }[];
  const vectors = families.find(({ family }) => family.includes('0x2A9D'))?.vectors ?? [];
  test('there are some', () => expect(vectors.length).toBeGreaterThanOrEqual(9));
  for (const vector of vectors)
    test(`${vector.hex} ${vector.expect ?? `${vector.weight} ${vector.unit}`}`, () => {
      const decoded = decodeWeightMeasurement(bytesOf(vector.hex));
      if (vector.expect === 'reject') expect(decoded.ok).toBe(false);
      else
        expect(decoded).toMatchObject({
          ok: true,
          measurement: { unit: vector.unit, weight: vector.weight, overload: false },
        });
    });
});

describe('as a pad', () => {
  const countsOf = (hex: string): number => {
    const decoded = decodeWeightPacket(bytesOf(hex));
    return decoded.ok ? (decoded.packet.counts[0] ?? Number.NaN) : Number.NaN;
  };

  test('counts are milligrams, of pounds too', () => {
    expect(countsOf('00 10 F4')).toBe(312_400_000);
    // 157 lb × 0.45359237 kg/lb (exact) = 71.21400209 kg; in whole milligrams
    expect(countsOf('01 54 3D')).toBe(71_214_002);
  });

  test('the nominal span makes newtons of standard gravity of them', () => {
    const { rating } = WEIGHT_SCALE_MODEL;
    if (!('fixed' in rating && rating.fixed))
      throw new Error('the rating of the adopted service is fixed');
    const kilograms =
      (countsOf('00 10 F4') * rating.fixed.ratedLoad) / rating.fixed.countsAtRatedLoad;
    expect(kilograms).toBeCloseTo(312.4, 9);
  });

  test('the ceiling is overload, the step below it is a weight; nothing wraps', () => {
    const flagsOf = (hex: string): number | null => {
      const decoded = decodeWeightPacket(bytesOf(hex));
      return decoded.ok ? decoded.packet.flags : null;
    };
    expect(flagsOf('00 FF FF')).toBe(SAMPLE_FLAGS.overload);
    expect(flagsOf('00 FE FF')).toBe(0);
    expect(() => encodeWeightMeasurement({ ...plain, unit: 'kg', weight: 330 })).toThrow(
      RangeError,
    );
    expect(() => encodeWeightMeasurement({ ...plain, unit: 'kg', weight: 327.675 })).toThrow(
      RangeError,
    );
    expect(() => encodeWeightMeasurement({ ...plain, unit: 'kg', weight: -1 })).toThrow(RangeError);
  });
});

test('what the layout does not allow is refused', () => {
  const refused = [
    '', // nothing
    '00', // no weight
    '00 01', // half a weight
    '00 B0 36 00', // a byte too many
    '02 B0 36', // the time stamp it promises is not there
    '10 B0 36', // a reserved flag
    '02 B0 36 E7 07 0D 19 0E 1E 2D', // month 13
    '02 B0 36 E7 07 0C 19 18 1E 2D', // hour 24
  ];
  for (const hex of refused)
    expect([hex, decodeWeightMeasurement(bytesOf(hex)).ok]).toEqual([hex, false]);
});

test('property: encode then decode is identity, and decode then encode gives the bytes', () => {
  const unit = fc.constantFrom('kg' as const, 'lb' as const);
  const timeStamp = fc.option(
    fc.record({
      year: fc.integer({ min: 1582, max: 9999 }),
      month: fc.integer({ min: 0, max: 12 }),
      day: fc.integer({ min: 0, max: 31 }),
      hours: fc.integer({ min: 0, max: 23 }),
      minutes: fc.integer({ min: 0, max: 59 }),
      seconds: fc.integer({ min: 0, max: 59 }),
    }),
  );
  const body = fc.option(fc.tuple(fc.nat(0xffff), fc.nat(0xffff)));
  fc.assert(
    fc.property(
      unit,
      fc.nat(0xfffe),
      timeStamp,
      fc.option(fc.nat(255)),
      body,
      (u, steps, t, user, b) => {
        const measurement: WeightMeasurement = {
          unit: u,
          weight: steps / (u === 'kg' ? 200 : 100),
          overload: false,
          timeStamp: t,
          user,
          bmi: b && b[0] / 10,
          height: b && b[1] / (u === 'kg' ? 1000 : 10),
        };
        expect(decodeWeightMeasurement(encodeWeightMeasurement(measurement))).toEqual({
          ok: true,
          measurement,
          steps,
        });
      },
    ),
    { seed: 5 },
  );
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 16 }), (bytes) => {
      const decoded = decodeWeightMeasurement(bytes);
      if (decoded.ok) expect(encodeWeightMeasurement(decoded.measurement)).toEqual(bytes);
    }),
    { seed: 6, numRuns: 3000 },
  );
});
