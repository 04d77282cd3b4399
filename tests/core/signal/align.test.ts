import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { perCorner, type PerCorner } from '../../../core/corners.ts';
import { createRing } from '../../../core/ring.ts';
import { align, newestCommonTime, type TimeSeries } from '../../../core/signal/align.ts';
import { commonWindow } from '../../../core/signal/commonWindow.ts';

/** A stream at the given times; the value is a line through them, null a hole. */
const stream = (times: readonly (number | { readonly hole: number })[], slope = 10): TimeSeries => {
  const ring = createRing({ capacity: 64, columns: ['force'] });
  for (const t of times) {
    if (typeof t === 'number') ring.push({ t, force: slope * t });
    else ring.pushHole(t.hole);
  }
  return ring.column('force');
};

const even = (from: number, to: number, step = 0.1): number[] =>
  Array.from({ length: Math.round((to - from) / step) + 1 }, (_, index) => from + index * step);

const four = (changes: Partial<PerCorner<TimeSeries>> = {}): PerCorner<TimeSeries> => ({
  ...perCorner((_, index) => stream(even(0.02 * index, 2 + 0.02 * index), 10 + index)),
  ...changes,
});

describe('values at one common time', () => {
  test('are on the line between the samples on either side', () => {
    const values = align(four(), { t: 1.234, maxGap: 0.2 });
    expect(values.LF).toBeCloseTo(12.34, 9);
    expect(values.RF).toBeCloseTo(11 * 1.234, 9);
    expect(values.RR).toBeCloseTo(13 * 1.234, 9);
  });

  test('a line is met exactly wherever the samples fall', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.01, max: 0.2, noNaN: true }), { minLength: 3, maxLength: 30 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (steps, share) => {
          let t = 0;
          const times = [0, ...steps.map((step) => (t += step))];
          const found = align(four({ LF: stream(times) }), { t: share * t, maxGap: 0.2 });
          expect(found.LF).toBeCloseTo(10 * share * t, 9);
        },
      ),
      { seed: 1 },
    );
  });

  test('nothing is carried forward or back', () => {
    expect(align(four(), { t: 2.03, maxGap: 0.2 })).toMatchObject({ LF: null, RF: null });
    expect(align(four(), { t: 2.03, maxGap: 0.2 }).RR).toBeCloseTo(13 * 2.03, 9);
    expect(align(four(), { t: 0.03, maxGap: 0.2 }).RR).toBeNull();
    const broken = four({
      LF: stream([...even(0, 1), ...even(1.5, 2)]),
      RF: stream([...even(0, 1), { hole: 1.01 }, ...even(1.1, 2)]),
    });
    expect(align(broken, { t: 1.05, maxGap: 0.2 })).toMatchObject({ LF: null, RF: null });
    expect(align(broken, { t: 1.3, maxGap: 0.2 }).LF).toBeNull();
    expect(align(broken, { t: 1.3, maxGap: 0.6 }).LF).toBeCloseTo(13, 9);
    expect(align(broken, { t: 1, maxGap: 0.2 })).toMatchObject({ LF: 10 });
  });

  test('the newest common time is that of the pad that is behind', () => {
    expect(newestCommonTime(four())).toBeCloseTo(2, 12);
    expect(newestCommonTime(four({ RR: stream([]) }))).toBeNull();
  });
});

describe('a common window', () => {
  const limits = { maxGap: 0.2 };

  test('holds the samples of all four from one time to another', () => {
    const found = commonWindow(four(), { from: 0.5, to: 1.5, ...limits });
    expect(found).toEqual({
      ok: true,
      parts: {
        LF: { from: 5, to: 16 },
        RF: { from: 5, to: 15 },
        LR: { from: 5, to: 15 },
        RR: { from: 5, to: 15 },
      },
    });
  });

  test('one lost sample at 10 Hz is 0.2 s and no gap, two are one', () => {
    const one = even(0, 2).filter((_, index) => index !== 10);
    const two = even(0, 2).filter((_, index) => index !== 10 && index !== 11);
    expect(commonWindow(four({ LR: stream(one) }), { from: 0.5, to: 1.5, ...limits }).ok).toBe(
      true,
    );
    const found = commonWindow(four({ LR: stream(two) }), { from: 0.5, to: 1.5, ...limits });
    expect(found).toMatchObject({ ok: false, corner: 'LR' });
    if (!found.ok) {
      expect(found.from).toBeCloseTo(0.9, 9);
      expect(found.to).toBeCloseTo(1.2, 9);
    }
  });

  test('the ends count: a stream that begins late or stopped has a gap there', () => {
    const late = commonWindow(four({ RF: stream(even(1, 2)) }), { from: 0.5, to: 1.5, ...limits });
    expect(late).toMatchObject({ ok: false, corner: 'RF', from: 0.5 });
    const stopped = commonWindow(four({ RR: stream(even(0, 1.2)) }), {
      from: 0.5,
      to: 1.5,
      ...limits,
    });
    expect(stopped).toMatchObject({ ok: false, corner: 'RR', to: 1.5 });
    const silent = commonWindow(four({ LF: stream([]) }), { from: 0.5, to: 1.5, ...limits });
    expect(silent).toEqual({ ok: false, corner: 'LF', from: 0.5, to: 1.5 });
  });

  test('a hole’s entry neither fills a gap nor makes one', () => {
    const filled = stream([...even(0, 1), { hole: 1.15 }, ...even(1.3, 2)]);
    expect(commonWindow(four({ LF: filled }), { from: 0.5, to: 1.5, ...limits }).ok).toBe(false);
    const short = stream([...even(0, 1), { hole: 1.05 }, ...even(1.1, 2)]);
    expect(commonWindow(four({ LF: short }), { from: 0.5, to: 1.5, ...limits }).ok).toBe(true);
  });
});
