import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createRing } from '../../core/ring.ts';
import { decimate } from './decimate.ts';

interface Point {
  readonly t: number;
  readonly y: number;
}

const ringOf = (points: readonly Point[], capacity = 512) => {
  const ring = createRing({ capacity, columns: ['y'] });
  for (const point of points) ring.push(point);
  return ring;
};

const draw = (
  points: readonly Point[],
  window: { readonly from: number; readonly to: number; readonly bucket: number },
): Point[] => {
  const out = { x: new Float64Array(600), y: new Float64Array(600) };
  const count = decimate(ringOf(points).column('y'), window, out);
  return Array.from({ length: count }, (_, index) => ({
    t: out.x[index] as number,
    y: out.y[index] as number,
  }));
};

/** Samples at rising times, some of them holes. */
const traces = fc
  .array(
    fc.tuple(
      fc.double({ min: 0.001, max: 0.3, noNaN: true }),
      fc.oneof({ weight: 9, arbitrary: fc.integer({ min: -50, max: 50 }) }, fc.constant(NaN)),
    ),
    { maxLength: 120 },
  )
  .map((steps) => {
    let t = 0;
    return steps.map(([step, y]): Point => {
      t += step;
      return { t, y };
    });
  });
const buckets = fc.constantFrom(0.05, 0.25, 1);

describe('least and greatest of every bucket', () => {
  test('in time order, each a point of the trace, none lost', () => {
    fc.assert(
      fc.property(traces, buckets, (points, bucket) => {
        const drawn = draw(points, { from: 0, to: 1000, bucket });
        const within = (all: readonly Point[], at: number): number[] =>
          all.flatMap(({ t, y }) => (Math.floor(t / bucket) === at && !Number.isNaN(y) ? [y] : []));
        for (let index = 1; index < drawn.length; index += 1)
          expect((drawn[index] as Point).t).toBeGreaterThanOrEqual((drawn[index - 1] as Point).t);
        for (const point of drawn)
          expect(points.some(({ t, y }) => t === point.t && Object.is(y, point.y))).toBe(true);
        for (const at of new Set(points.map(({ t }) => Math.floor(t / bucket)))) {
          const own = within(points, at);
          if (own.length === 0) continue;
          const kept = within(drawn, at);
          expect(Math.min(...kept)).toBe(Math.min(...own));
          expect(Math.max(...kept)).toBe(Math.max(...own));
        }
        expect(drawn.filter(({ y }) => Number.isNaN(y)).length).toBe(
          points.filter(({ y }) => Number.isNaN(y)).length,
        );
        expect(drawn.length).toBeLessThanOrEqual(points.length);
      }),
      { seed: 1, numRuns: 300 },
    );
  });

  test('a bucket looks the same wherever the window begins: nothing shimmers', () => {
    fc.assert(
      fc.property(
        traces,
        buckets,
        fc.double({ min: 0, max: 10, noNaN: true }),
        (points, bucket, from) => {
          const whole = draw(points, { from: 0, to: 1000, bucket });
          const part = draw(points, { from, to: 1000, bucket });
          const edge = Math.floor(from / bucket) * bucket;
          expect(part).toEqual(whole.filter(({ t }) => t >= edge));
        },
      ),
      { seed: 2, numRuns: 200 },
    );
  });
});

test('twenty seconds at 80 Hz: at most two points a pixel, the spike among them', () => {
  const points = Array.from({ length: 1600 }, (_, index) => ({
    t: index / 80,
    y: index === 777 ? 1e6 : Math.sin(index),
  }));
  const out = { x: new Float64Array(1600), y: new Float64Array(1600) };
  const count = decimate(
    ringOf(points, 1600).column('y'),
    { from: 0, to: 20, bucket: 20 / 200 },
    out,
  );
  expect(count).toBeLessThanOrEqual(402);
  expect(Math.max(...out.y.subarray(0, count))).toBe(1e6);
});

test('a flat bucket reaches from its first to its last entry', () => {
  const points = [0, 0.02, 0.04].map((t) => ({ t, y: 5 }));
  expect(draw(points, { from: 0, to: 1, bucket: 0.1 })).toEqual([
    { t: 0, y: 5 },
    { t: 0.04, y: 5 },
  ]);
});

test('too little room and no bucket are refused', () => {
  const points = [0, 1, 2].map((t) => ({ t, y: t }));
  const out = { x: new Float64Array(2), y: new Float64Array(2) };
  const trace = ringOf(points).column('y');
  expect(() => decimate(trace, { from: 0, to: 9, bucket: 1 }, out)).toThrow(RangeError);
  expect(() => decimate(trace, { from: 0, to: 9, bucket: 0 }, out)).toThrow(RangeError);
});
