import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { perCorner, type PerCorner } from '../../../core/corners.ts';
import { SAMPLE_FLAGS } from '../../../core/reading.ts';
import { average, type Average, type Stretch } from '../../../core/signal/average.ts';
import { averageFour, type FourAverage } from '../../../core/signal/averageFour.ts';
import { studentT } from '../../../core/signal/studentT.ts';
import { autoregressive, createNoise, type Noise } from './noise.ts';

const RATE = 80;
const TRUTH = 3000;

const evenly = (x: readonly number[], phase = 0): Stretch => ({
  t: x.map((_, index) => (index + phase) / RATE),
  x,
});

const averaged = (stretch: Stretch): Average => {
  const found = average(stretch);
  if (!found) throw new Error('no average');
  return found;
};

const fourAveraged = (streams: PerCorner<Stretch>): FourAverage => {
  const found = averageFour(streams);
  if (!found) throw new Error('no average');
  return found;
};

/** Share of seeded runs whose 95 % interval holds the truth. */
const coverage = (seed: number, make: (noise: Noise) => number[]): number => {
  const noise = createNoise(seed);
  const runs = 2000;
  let inside = 0;
  for (let run = 0; run < runs; run += 1) {
    const found = averaged(evenly(make(noise).map((value) => TRUTH + value)));
    if (Math.abs(found.mean - TRUTH) <= studentT(0.05, found.dof) * found.u) inside += 1;
  }
  return inside / runs;
};

describe('95 % intervals hold the truth in about 95 % of simulated windows', () => {
  // The truth is known by construction; 2000 runs have a standard error of 0.5 %.
  const cases = [0, 0.3, 0.6, 0.8, 0.9].flatMap((rho) =>
    [60, 120, 480].map((count) => [rho, count] as const),
  );
  test.each(cases)('autoregressive %d, %d samples', (rho, count) => {
    const held = coverage(1000 + count, (noise) => autoregressive(noise, { rho, count }));
    expect(held).toBeGreaterThan(0.93);
    expect(held).toBeLessThan(0.985);
  });

  test.each([2, 4, 8])('values repeated %d times by an oversampled converter', (repeats) => {
    const held = coverage(2000 + repeats, (noise) => {
      const phase = Math.floor(noise.uniform() * repeats);
      let value = noise.normal();
      return Array.from({ length: 240 }, (_, index) => {
        if ((index + phase) % repeats === 0) value = noise.normal();
        return value;
      });
    });
    expect(held).toBeGreaterThan(0.93);
    expect(held).toBeLessThan(0.985);
  });

  test('taking the samples as independent would not do', () => {
    const noise = createNoise(3);
    let inside = 0;
    for (let run = 0; run < 500; run += 1) {
      const found = averaged(evenly(autoregressive(noise, { rho: 0.8, count: 240 })));
      if (Math.abs(found.mean) <= (1.97 * found.sd) / Math.sqrt(240)) inside += 1;
    }
    expect(inside / 500).toBeLessThan(0.6);
  });
});

test('repeats carry no more than the values that were repeated', () => {
  const noise = createNoise(4);
  const values = Array.from({ length: 120 }, () => noise.normal());
  const eight = values.flatMap((value) => Array.from({ length: 8 }, () => value));
  const repeated = averaged(evenly(eight));
  expect(repeated.samples).toBe(960);
  expect(repeated.effectiveSamples).toBeGreaterThan(60);
  expect(repeated.effectiveSamples).toBeLessThan(200);
});

test('spikes and holes are left out and counted', () => {
  const found = averaged({
    t: [0, 1, 2, 3, 4, 5],
    x: [1, 2, 900, NaN, 2, 1],
    flags: [0, 0, SAMPLE_FLAGS.spike, 0, SAMPLE_FLAGS.lowBattery, 0],
  });
  expect(found).toMatchObject({ mean: 1.5, samples: 4, spikes: 1 });
  expect(average({ t: [0, 1], x: [1, NaN] })).toBeNull();
});

test('a constant is known exactly, a ramp has its slope', () => {
  expect(averaged(evenly([5, 5, 5, 5]))).toMatchObject({ mean: 5, u: 0, slope: 0 });
  const ramp = averaged(evenly(Array.from({ length: 160 }, (_, index) => 7 + index * 0.25)));
  expect(ramp.slope).toBeCloseTo(0.25 * RATE, 9);
});

describe('four corners together', () => {
  const window = (noise: Noise, rock: number, count = 240): PerCorner<Stretch> => {
    const turn = noise.uniform() * 2 * Math.PI;
    const hertz = 2 + 3 * noise.uniform();
    return perCorner((corner) => {
      const phase = noise.uniform();
      const side = corner === 'LF' || corner === 'LR' ? 1 : -1;
      const x = Array.from(
        { length: count },
        (_, index) =>
          TRUTH +
          noise.normal() +
          side * rock * Math.sin(turn + (2 * Math.PI * hertz * (index + phase)) / RATE),
      );
      return evenly(x, phase);
    });
  };
  const totalOf = (found: FourAverage): { readonly mean: number; readonly u: number } => ({
    mean:
      found.corners.LF.mean + found.corners.RF.mean + found.corners.LR.mean + found.corners.RR.mean,
    u: Math.sqrt(found.covariance.reduce((sum, entry) => sum + entry, 0)),
  });

  test('a rocking car does not make its total uncertain', () => {
    const noise = createNoise(5);
    const found = fourAveraged(window(noise, 10));
    // Independent unit noise alone: √4/√240 for the total, 1/√240 for a corner.
    expect(totalOf(found).u).toBeLessThan((2 * 2) / Math.sqrt(240));
    expect(found.corners.LF.u).toBeGreaterThan(2 / Math.sqrt(240));
  });

  test.each([0, 10])('the total’s interval covers, rocking by %d', (rock) => {
    const noise = createNoise(6);
    const runs = 1000;
    let inside = 0;
    for (let run = 0; run < runs; run += 1) {
      const found = fourAveraged(window(noise, rock));
      const { mean, u } = totalOf(found);
      if (Math.abs(mean - 4 * TRUTH) <= studentT(0.05, found.corners.LF.dof) * u) inside += 1;
    }
    expect(inside / runs).toBeGreaterThan(0.93);
    expect(inside / runs).toBeLessThan(0.985);
  });

  test('the covariance is symmetric and never indefinite, and its diagonal is the corners’ own', () => {
    const streams = fc.array(
      fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: 2, maxLength: 30 }),
      { minLength: 4, maxLength: 4 },
    );
    const direction = fc.array(fc.integer({ min: -5, max: 5 }), { minLength: 4, maxLength: 4 });
    fc.assert(
      fc.property(streams, direction, (rows, along) => {
        const found = averageFour(perCorner((_, index) => evenly(rows[index] as number[], 0)));
        if (!found) return;
        const { covariance } = found;
        let variance = 0;
        let largest = 0;
        for (let i = 0; i < 4; i += 1)
          for (let j = 0; j < 4; j += 1) {
            const entry = covariance[4 * i + j] as number;
            expect(entry).toBe(covariance[4 * j + i]);
            variance += (along[i] as number) * entry * (along[j] as number);
            largest = Math.max(largest, Math.abs(entry));
          }
        expect(variance).toBeGreaterThanOrEqual(-1e-12 * largest * 100);
        const diagonal = [0, 5, 10, 15].map((entry) => Math.sqrt(covariance[entry] as number));
        const { LF, RF, LR, RR } = found.corners;
        expect([LF.u, RF.u, LR.u, RR.u]).toEqual(diagonal);
      }),
      { seed: 7, numRuns: 300 },
    );
  });

  test('mirroring the car mirrors the covariance', () => {
    const streams = window(createNoise(8), 3);
    const mirrored = { LF: streams.RF, RF: streams.LF, LR: streams.RR, RR: streams.LR };
    const found = fourAveraged(streams).covariance;
    const other = fourAveraged(mirrored).covariance;
    const swap = [1, 0, 3, 2];
    for (let i = 0; i < 4; i += 1)
      for (let j = 0; j < 4; j += 1)
        expect(other[4 * i + j]).toBeCloseTo(
          found[4 * (swap[i] as number) + (swap[j] as number)] as number,
          12,
        );
  });

  test('a load that creeps: noise and drift apart, the drift cancels in the total', () => {
    const noise = createNoise(9);
    let inside = 0;
    for (let run = 0; run < 400; run += 1) {
      // Three seconds of a warp of 0.5 N that gives way with 1.2 s, in noise of a tenth of that.
      const creep = (t: number): number => 0.5 * Math.exp(-t / 1.2);
      const found = fourAveraged(
        perCorner((_, pad) => {
          const sign = pad === 0 || pad === 3 ? 1 : -1;
          const x = Array.from(
            { length: 240 },
            (__, index) => TRUTH + sign * creep(index / RATE) + 0.05 * noise.normal(),
          );
          return evenly(x, 0);
        }),
      );
      const truth = TRUTH + (0.5 * 1.2 * (1 - Math.exp(-2.5))) / 3;
      const { u, dof } = found.noise.LF;
      if (Math.abs(found.corners.LF.mean - truth) <= studentT(0.05, dof) * u) inside += 1;
      // Its straight part goes 0.5·(1 − e^−2.5) N, less at the ends of a curve: about 0.4/√12 N.
      expect(found.corners.LF.u).toBeGreaterThan(0.09);
      expect(found.corners.LF.u).toBeLessThan(0.14);
      expect(found.corners.LF.dof).toBeGreaterThan(30);
      expect(totalOf(found).u).toBeLessThan(0.03);
    }
    expect(inside / 400).toBeGreaterThan(0.92);
    expect(inside / 400).toBeLessThan(0.985);
  });

  test('streams without a common stretch have no joint average', () => {
    const early = { t: [0, 1, 2], x: [1, 2, 3] };
    const late = { t: [5, 6, 7], x: [1, 2, 3] };
    expect(averageFour({ LF: early, RF: early, LR: early, RR: late })).toBeNull();
  });
});
