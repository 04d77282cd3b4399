import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decimate } from './decimate.ts';
import { createTraceRing, type TraceRing } from '../../renderer/live/traceRing.ts';
import { createTraceWriter, type TraceScale } from '../../renderer/plot/traceWriter.ts';

const SCALE: TraceScale = { span: 20, pixelsPerSecond: 10, column: 0.1, offset: 100, slope: -1 };

interface Point {
  readonly move: boolean;
  readonly x: number;
  readonly y: number;
}

const pointsOf = (d: string): readonly Point[] =>
  [...d.matchAll(/([ML])(-?[\d.]+) (-?[\d.]+)/gu)].map(([, letter, x, y]) => ({
    move: letter === 'M',
    x: Number(x),
    y: Number(y),
  }));

const fill = (ring: TraceRing, samples: readonly (readonly [number, number | null])[]): void => {
  for (const [t, mass] of samples) ring.append(t, mass);
};

/** What the batch decimation of the same ring would draw, in the writer's pixels. */
const batch = (ring: TraceRing, scale: TraceScale, from: number, anchor: number): Point[] => {
  const room = ring.written() + 1;
  const out = { x: new Float64Array(room), y: new Float64Array(room) };
  const count = decimate(
    {
      begin: ring.oldest(),
      end: ring.written(),
      timeAt: ring.timeAt,
      valueAt: ring.massAt,
      firstAt: (t) => {
        let cursor = ring.oldest();
        while (cursor < ring.written() && ring.timeAt(cursor) < t) cursor += 1;
        return cursor;
      },
    },
    { from, to: Infinity, bucket: scale.column },
    out,
  );
  const points: Point[] = [];
  let move = true;
  for (let index = 0; index < count; index += 1) {
    const t = out.x[index]!;
    const mass = out.y[index]!;
    if (Number.isNaN(mass)) {
      move = true;
      continue;
    }
    points.push({
      move,
      x: Math.round((t - anchor) * scale.pixelsPerSecond * 10) / 10,
      y: Math.round((scale.offset + scale.slope * mass) * 10) / 10,
    });
    move = false;
  }
  return points;
};

describe('a live trace', () => {
  test('draws nothing before it has a scale, and an empty line from an empty ring', () => {
    const writer = createTraceWriter(createTraceRing(16));
    expect(writer.write(0)).toBeNull();
    writer.rescale(SCALE);
    expect(writer.write(0)).toMatchObject({ d: '', low: Number.NaN, high: Number.NaN });
  });

  test('a column keeps its least and greatest sample in time order', () => {
    const ring = createTraceRing(64);
    const writer = createTraceWriter(ring);
    writer.rescale(SCALE);
    fill(ring, [
      [10.01, 5],
      [10.03, 90],
      [10.05, 1],
      [10.07, 5],
      [10.11, 6],
    ]);
    const drawn = writer.write(10.2)!;
    expect(drawn.anchor).toBe(10);
    expect(pointsOf(drawn.d)).toEqual([
      { move: true, x: 0.3, y: 10 },
      { move: false, x: 0.5, y: 99 },
      { move: false, x: 1.1, y: 94 },
    ]);
    expect([drawn.low, drawn.high]).toEqual([1, 90]);
  });

  test('a hole lifts the pen, and so does a silence that nobody reported', () => {
    const ring = createTraceRing(64);
    const writer = createTraceWriter(ring);
    writer.rescale(SCALE);
    fill(ring, [
      [10.01, 1],
      [10.15, 2],
      [10.2, null],
      [10.31, 3],
      [10.45, 4],
      [11.5, 5],
      [11.65, 6],
    ]);
    expect(pointsOf(writer.write(12)!.d).map(({ move }) => move)).toEqual([
      true,
      false,
      true,
      false,
      true,
      false,
    ]);
  });

  test('the newest sample is drawn at once, whatever its column holds', () => {
    const ring = createTraceRing(64);
    const writer = createTraceWriter(ring);
    writer.rescale(SCALE);
    fill(ring, [
      [10.01, 1],
      [10.02, 9],
    ]);
    const first = writer.write(10.03)!;
    expect(writer.write(10.04)).toBe(first);
    ring.append(10.06, 5);
    expect(pointsOf(writer.write(10.07)!.d).at(-1)).toEqual({ move: false, x: 0.6, y: 95 });
  });

  test('what has left the window is not kept, and the line still begins with a move', () => {
    const ring = createTraceRing(8192);
    const writer = createTraceWriter(ring);
    writer.rescale(SCALE);
    for (let index = 0; index < 6000; index += 1) {
      ring.append(index / 80, index % 7);
      if (index % 4 === 0) writer.write(index / 80);
    }
    const drawn = writer.write(6000 / 80)!;
    expect(drawn.d.startsWith('M')).toBe(true);
    // 20 s of 0.1 s columns of two points, and at most one piece of 48 columns and a tip more.
    expect(pointsOf(drawn.d).length).toBeLessThanOrEqual(2 * (200 + 48) + 3);
    expect(pointsOf(drawn.d).length).toBeGreaterThanOrEqual(2 * 199);
  });

  test('after the ring was cleared or lapped only what is there is drawn', () => {
    const ring = createTraceRing(8);
    const writer = createTraceWriter(ring);
    writer.rescale(SCALE);
    ring.append(10, 50);
    writer.write(10);
    ring.clear();
    fill(ring, [[3, 1]]);
    expect(writer.write(3.1)).toMatchObject({ low: 1, high: 1 });
    for (let index = 0; index < 20; index += 1) ring.append(4 + index, index);
    expect(writer.write(24)).toMatchObject({ low: 12, high: 19 });
  });

  test('any chopping of the stream draws what the batch decimation does', () => {
    const sample = fc.record({
      step: fc.double({ min: 0.003, max: 0.2, noNaN: true }),
      mass: fc.option(fc.double({ min: -50, max: 400, noNaN: true }), { freq: 12, nil: null }),
      look: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.array(sample, { minLength: 1, maxLength: 400 }), (samples) => {
        const ring = createTraceRing(1024);
        const writer = createTraceWriter(ring);
        writer.rescale({ ...SCALE, span: 100 });
        let t = 100;
        for (const { step, mass, look } of samples) {
          t += step;
          // As the ring keeps it, so that both see the same number.
          ring.append(t, mass === null ? null : Math.fround(mass));
          if (look) writer.write(t);
        }
        // Past the last column, so that none is open: a hole closes it.
        ring.append(t + 0.001, null);
        const drawn = writer.write(t)!;
        const wanted = batch(ring, SCALE, t - 100, drawn.anchor);
        // The batch draws a flat column's two ends; the writer too. Values are compared, not letters.
        expect(pointsOf(drawn.d)).toEqual(wanted);
      }),
      { seed: 7, numRuns: 60 },
    );
  });
});
