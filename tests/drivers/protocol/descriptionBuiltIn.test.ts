import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { SAMPLE_FLAGS } from '../../../core/reading.ts';
import {
  CORNER_PAD_MODEL,
  CORNER_PAD_RATES,
  encodeLoads,
  encodeRating,
} from '../../../drivers/pads/protocol/cornerPad.ts';
import {
  BUILT_IN_DESCRIPTIONS,
  CORNER_PAD_DESCRIPTION,
  WEIGHT_SCALE_DESCRIPTION,
} from './builtInDescriptions.ts';
import { describe as textOf } from '../../../drivers/pads/protocol/description/parseDescription.ts';
import type { PadModel } from '../../../drivers/pads/protocol/model.ts';
import { PAD_MODELS } from '../../../drivers/pads/protocol/registry.ts';
import {
  decodeWeightMeasurement,
  encodeWeightMeasurement,
  WEIGHT_SCALE_MODEL,
} from '../../../drivers/pads/protocol/weightScale.ts';
import { loadsOf, padOf } from './descriptionPage.ts';

/** The hand-written codecs are what runs; they must be what their descriptions say. */

const SEED = 20_261_125;

const modelFrom = (description: (typeof BUILT_IN_DESCRIPTIONS)[number]): PadModel => {
  const { model } = padOf(textOf(description));
  if (!model) throw new Error('it streams');
  return model;
};

/** Same packet, or both refuse; the words of a refusal are each one's own. */
const agree = (described: PadModel, written: PadModel, bytes: Uint8Array): boolean => {
  const one = described.decode(bytes);
  const other = written.decode(bytes);
  expect({ bytes, ok: one.ok }).toEqual({ bytes, ok: other.ok });
  if (one.ok && other.ok) expect(one.packet).toEqual(other.packet);
  return one.ok;
};

test('there is one for each built-in model, with the same names, places and rating', () => {
  expect(BUILT_IN_DESCRIPTIONS.length).toBe(PAD_MODELS.length);
  BUILT_IN_DESCRIPTIONS.forEach((description, k) => {
    const described = modelFrom(description);
    const written = PAD_MODELS[k] as PadModel;
    for (const part of ['name', 'title', 'service', 'stream', 'noisy', 'silentAfter'] as const)
      expect(described[part]).toEqual(written[part]);
    expect(described.control?.at).toEqual(written.control?.at);
    if ('fixed' in written.rating) expect(described.rating).toEqual(written.rating);
    else expect(described.rating).toMatchObject({ from: written.rating.from });
  });
});

describe('corner pad', () => {
  const described = modelFrom(CORNER_PAD_DESCRIPTION);

  test('any bytes', () => {
    let accepted = 0;
    const lengths = fc.oneof(fc.constantFrom(10, 13, 16, 19), fc.integer({ min: 0, max: 24 }));
    const bytes = lengths.chain((n) => fc.uint8Array({ minLength: n, maxLength: n }));
    fc.assert(
      fc.property(bytes, (one) => {
        if (agree(described, CORNER_PAD_MODEL, one)) accepted++;
      }),
      { seed: SEED, numRuns: 4000 },
    );
    expect(accepted).toBeGreaterThan(300);
  });

  test('what the profile can send', () => {
    const packet = fc.record({
      sequence: fc.integer({ min: 0, max: 0xffff }),
      clockMs: fc.integer({ min: 0, max: 0xffffffff }),
      rate: fc.constantFrom(...CORNER_PAD_RATES),
      counts: fc.array(fc.integer({ min: -0x800000, max: 0x7fffff }), {
        minLength: 1,
        maxLength: 4,
      }),
      flags: fc.integer({ min: 0, max: 15 }),
    });
    fc.assert(
      fc.property(packet, (one) => {
        expect(described.decode(encodeLoads(one))).toEqual({ ok: true, packet: one });
      }),
      { seed: SEED, numRuns: 2000 },
    );
  });

  test('ratings, of any bytes and of what the profile can send', () => {
    const [one, other] = [described.rating, CORNER_PAD_MODEL.rating];
    if (!('from' in one && 'from' in other)) throw new Error('both read it');
    const bytes = fc.oneof(
      fc.uint8Array({ maxLength: 12 }),
      fc.uint8Array({ minLength: 7, maxLength: 7 }).map((rest) => Uint8Array.of(1, ...rest)),
      fc
        .tuple(fc.integer({ min: 1, max: 0xffff }), fc.integer({ min: 1, max: 0x7fffffff }))
        .map(([tenths, countsAtRatedLoad]) =>
          encodeRating({ ratedLoad: tenths / 10, countsAtRatedLoad, resolution: 1 }),
        ),
    );
    fc.assert(
      fc.property(bytes, (some) => {
        expect(one.decode(some)).toEqual(other.decode(some));
      }),
      { seed: SEED, numRuns: 3000 },
    );
  });

  test('commands', () => {
    const encode = (
      model: PadModel,
      command: Parameters<NonNullable<PadModel['control']>['encode']>[0],
    ) => model.control?.encode(command);
    for (const rate of CORNER_PAD_RATES)
      expect(encode(described, { do: 'set rate', rate })).toEqual(
        encode(CORNER_PAD_MODEL, { do: 'set rate', rate }),
      );
    for (const seconds of [0, 1, 9.6, 255, 1000])
      expect(encode(described, { do: 'identify', seconds })).toEqual(
        encode(CORNER_PAD_MODEL, { do: 'identify', seconds }),
      );
    expect(encode(described, { do: 'reset clock' })).toEqual(Uint8Array.of(3));
    expect(() => encode(described, { do: 'set rate', rate: 50 })).toThrow(RangeError);
  });
});

describe('weight scale', () => {
  const pad = padOf(textOf(WEIGHT_SCALE_DESCRIPTION));
  const described = modelFrom(WEIGHT_SCALE_DESCRIPTION);

  test('every weight of both units, to the milligram and to the last digit', () => {
    for (const flags of [0, 1])
      for (let steps = 0; steps <= 0xffff; steps++) {
        const bytes = Uint8Array.of(flags, steps & 0xff, steps >> 8);
        const one = described.decode(bytes);
        const other = WEIGHT_SCALE_MODEL.decode(bytes);
        if (!one.ok || !other.ok) throw new Error(`${steps} is refused`);
        if (
          one.packet.counts[0] !== other.packet.counts[0] ||
          one.packet.flags !== other.packet.flags
        )
          expect(one).toEqual(other);
        if (steps % 97 === 0) {
          const read = decodeWeightMeasurement(bytes);
          if (!read.ok) throw new Error('refused');
          expect(loadsOf(pad, bytes)).toEqual([
            `${read.measurement.weight} ${read.measurement.unit}`,
          ]);
        }
      }
    expect(described.decode(Uint8Array.of(0, 0xff, 0xff))).toMatchObject({
      packet: { flags: SAMPLE_FLAGS.overload },
    });
  });

  test('any bytes, of any flags', () => {
    let accepted = 0;
    const bytes = fc
      .tuple(
        fc.oneof(fc.integer({ min: 0, max: 15 }), fc.integer({ min: 0, max: 255 })),
        fc.uint8Array({ maxLength: 18 }),
        fc.boolean(),
      )
      .map(([flags, rest, isFitted]) => {
        const length = 2 + (flags & 2 ? 7 : 0) + (flags & 4 ? 1 : 0) + (flags & 8 ? 4 : 0);
        const fitted = new Uint8Array(length);
        fitted.set(rest.subarray(0, length));
        return Uint8Array.of(flags, ...(isFitted ? fitted : rest));
      });
    fc.assert(
      fc.property(bytes, (one) => {
        if (agree(described, WEIGHT_SCALE_MODEL, one)) accepted++;
      }),
      { seed: SEED, numRuns: 6000 },
    );
    expect(accepted).toBeGreaterThan(500);
  });

  test('every optional field, both units, every edge of the time stamp', () => {
    const edge = (most: number, over: number) => fc.constantFrom(0, 1, most, over);
    const stamp = fc.tuple(
      fc.constantFrom(0, 1, 1581, 1582, 2026, 9999, 10_000, 0xffff),
      edge(12, 13),
      edge(31, 32),
      edge(23, 24),
      edge(59, 60),
      edge(59, 60),
    );
    let accepted = 0;
    fc.assert(
      fc.property(
        fc.constantFrom('kg', 'lb'),
        fc.integer({ min: 0, max: 7 }),
        stamp,
        (unit, have, t) => {
          const bytes = encodeWeightMeasurement({
            unit: unit === 'lb' ? 'lb' : 'kg',
            weight: 157,
            overload: false,
            timeStamp:
              have & 1 ? { year: 2026, month: 1, day: 1, hours: 0, minutes: 0, seconds: 0 } : null,
            user: have & 2 ? 255 : null,
            bmi: have & 4 ? 24.5 : null,
            height: have & 4 ? 68 : null,
          });
          if (have & 1) bytes.set([t[0] & 0xff, t[0] >> 8, t[1], t[2], t[3], t[4], t[5]], 3);
          if (agree(described, WEIGHT_SCALE_MODEL, bytes)) accepted++;
        },
      ),
      { seed: SEED, numRuns: 3000 },
    );
    expect(accepted).toBeGreaterThan(1000);
  });
});
