import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CORNERS, perCorner, type Corner } from '../../../core/corners.ts';
import { createSettle } from '../../../core/signal/settle.ts';
import { SETTLE_DEFAULTS, type SettleOptions } from '../../../core/signal/settleOptions.ts';
import { checkWindow, emptyCheck, type WindowCheck } from '../../../core/signal/windowCheck.ts';
import { wobbleByNoise } from '../../../core/signal/wobbleByNoise.ts';
import { createNoise } from './noise.ts';

interface Sample {
  readonly t: number;
  readonly x: number;
}

/**
 * One corner's verdict from its whole record: every window and block is selected anew from all samples,
 * and the hysteresis is spelt out. What a window shows is `checkWindow`'s, which has its own test.
 */
const batch = (
  samples: readonly Sample[],
  options: SettleOptions,
): { readonly since: number | null; readonly mean: number | null } => {
  const tickOf = ({ t }: Sample): number => Math.ceil(Math.ceil(t / (options.window / 60)) / 4);
  const first = tickOf(samples[0] as Sample);
  const end = tickOf(samples.at(-1) as Sample);
  const spans = [options.window, ...options.longer];
  const middle = (kept: readonly Sample[]): Sample => ({
    t: kept.reduce((sum, { t }) => sum + t, 0) / kept.length,
    x: kept.reduce((sum, { x }) => sum + x, 0) / kept.length,
  });
  /** Means of the sixtieths of the window that ends with a tick; null where it is not full. */
  const blocksOf = (span: number, tick: number): Sample[] | null => {
    const ticks = Math.round(span / options.tick);
    if (first > tick - ticks) return null;
    const perTick = 60 / ticks;
    return Array.from({ length: 60 }, (_, index) => {
      const block = (tick - ticks) * perTick + index + 1;
      return samples.filter(({ t }) => {
        const fine = Math.ceil(t / (options.window / 60));
        return Math.ceil(fine / Math.round(span / options.window)) === block;
      });
    }).flatMap((block) => (block.length > 0 ? [middle(block)] : []));
  };

  let since: number | null = null;
  let before: WindowCheck | null = null;
  let mean: number | null = null;
  let shown: number | null = null;
  let passed = 0;
  let failed = 0;
  for (let tick = first; tick < end; tick += 1) {
    const checks = spans.map((span) => {
      const every = span > options.window ? Math.round((2 * span) / options.window) : 1;
      const judged = Math.floor(tick / every) * every;
      const series = blocksOf(span, judged);
      if (!series) return null;
      const check = emptyCheck();
      checkWindow(
        {
          times: Float64Array.from(series, ({ t }) => t),
          values: Float64Array.from(series, ({ x }) => x),
          residuals: new Float64Array(series.length),
          start: 0,
          count: series.length,
          from: judged * options.tick - span,
          span,
        },
        check,
      );
      const drifting =
        check.drift === 0
          ? 0
          : Math.min(
              check.drift / (options.driftFloor * Math.sqrt(span / options.window)),
              Math.abs(check.slope) / (options.significance * check.slopeError),
            );
      const noise = wobbleByNoise(
        Float64Array.from(series, ({ x }) => x),
        0,
        series.length,
      );
      const wobbling = check.wobble / Math.max(options.wobble, noise);
      return { check, drifting, wobbling };
    });
    const failings = checks.map((found, level) =>
      found
        ? Math.max(
            found.check.driftBound / options.driftBound,
            found.drifting,
            found.check.u / options.uncertainty,
            ...checks.slice(0, level + 1).map((shorter) => shorter?.wobbling ?? 0),
          )
        : Infinity,
    );
    const drifts = checks.map((found) => (found && found.wobbling <= 1 ? found.drifting : 0));
    const newest = samples.filter((sample) => tickOf(sample) === tick);
    const jumped =
      before !== null &&
      newest.length > 0 &&
      Math.abs(middle(newest).x - before.mean) >
        Math.max(options.jump, 6 * before.u * Math.sqrt(options.window / options.tick));
    before = checks[0]?.check ?? null;
    const worst = jumped ? Infinity : Math.max(Math.min(...failings), ...drifts);
    passed = worst <= 1 ? passed + 1 : 0;
    failed = worst > options.leave ? failed + 1 : 0;
    if (since === null && passed >= options.hold) {
      since = tick * options.tick;
      failed = 0;
    } else if (since !== null && (failed >= options.hold || worst > options.leaveAtOnce)) {
      since = null;
      passed = 0;
    }
    const level = failings.findLastIndex((failing) => failing <= 1);
    const best = level >= 0 ? level : failings.lastIndexOf(Math.min(...failings));
    if (worst <= options.leave) shown = checks[best]?.check.mean ?? null;
    mean = since === null ? null : shown;
  }
  return { since, mean };
};

/** A car let down at t = 2 s that rocks at 3 Hz, damping ratio 0.4, N. */
const fall = (corner: Corner, t: number): number => {
  const since = t - 2;
  const end = corner === 'LF' || corner === 'RF' ? 3000 : 3300;
  if (since < 0) return 0;
  return end * (1 - Math.exp(-7.5 * since) * Math.cos(17.3 * since));
};

describe('streaming equals batch', () => {
  test('a corner’s verdict is that of its whole record looked at anew at every tick', () => {
    const shapes = fc.record({
      rate: fc.constantFrom(10, 20, 80),
      seconds: fc.double({ min: 1, max: 9, noNaN: true }),
      rms: fc.constantFrom(0, 0.05, 0.5, 2),
      hertz: fc.double({ min: 1, max: 5, noNaN: true }),
      size: fc.constantFrom(0, 2, 300),
      drift: fc.constantFrom(0, 0.15, 0.3, 1),
      kick: fc.double({ min: 2, max: 9, noNaN: true }),
      kickSize: fc.constantFrom(1, 5.3, 40),
      seed: fc.integer(),
    });
    fc.assert(
      fc.property(shapes, ({ rate, seconds, rms, hertz, size, drift, kick, kickSize, seed }) => {
        const noise = createNoise(seed);
        const samples = Array.from({ length: Math.ceil(rate * seconds) }, (_, index) => {
          const t = (index + noise.uniform() / 2) / rate;
          const swing = size * Math.exp(-2 * hertz * t) * Math.cos(2 * Math.PI * hertz * t);
          const kicked = t > kick ? kickSize : 0;
          return { t, x: 1000 + swing + drift * t + kicked + rms * noise.normal() };
        });
        const settle = createSettle();
        for (const { t, x } of samples) settle.corners.LF.push(t, x);
        const { since, settled } = settle.corners.LF.now();
        const twin = batch(samples, SETTLE_DEFAULTS);
        if (twin.since === null) expect(since).toBeNull();
        else expect(since).toBeCloseTo(twin.since, 9);
        if (twin.mean === null) expect(settled).toBeNull();
        else expect(settled?.mean).toBeCloseTo(twin.mean, 8);
      }),
      { seed: 71, numRuns: 120 },
    );
  });

  test('the order in which corners and bursts arrive does not matter', () => {
    const noise = createNoise(72);
    const samples = perCorner((corner) =>
      Array.from({ length: 80 * 9 }, (_, index) => {
        const t = index / 80 + noise.uniform() / 200;
        return { t, force: fall(corner, t) + 0.3 * noise.normal() };
      }),
    );
    const inStep = createSettle();
    for (let index = 0; index < 80 * 9; index += 1)
      for (const corner of CORNERS) {
        const sample = samples[corner][index] as { t: number; force: number };
        inStep.corners[corner].push(sample.t, sample.force);
      }
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 160 }), { minLength: 8, maxLength: 40 }),
        fc.shuffledSubarray([...CORNERS], { minLength: 4 }),
        (bursts, order) => {
          const settle = createSettle();
          const sent = { LF: 0, RF: 0, LR: 0, RR: 0 };
          for (let step = 0; CORNERS.some((corner) => sent[corner] < 720); step += 1) {
            const corner = order[step % 4] as Corner;
            const behind = Math.min(...CORNERS.map((one) => sent[one]));
            // No pad runs further ahead of the others than a radio lets it: 2 s.
            const upTo = Math.min(
              720,
              behind + 160,
              sent[corner] + (bursts[step % bursts.length] ?? 1),
            );
            for (; sent[corner] < upTo; sent[corner] += 1) {
              const sample = samples[corner][sent[corner]] as { t: number; force: number };
              settle.corners[corner].push(sample.t, sample.force);
            }
          }
          expect(settle.now()).toEqual(inStep.now());
          for (const corner of CORNERS)
            expect(settle.corners[corner].now()).toEqual(inStep.corners[corner].now());
        },
      ),
      { seed: 73, numRuns: 25 },
    );
  });
});
