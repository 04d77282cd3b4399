import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CORNERS, perCorner, type Corner } from '../../../core/corners.ts';
import { createSettle, type FourStillness, type Settle } from '../../../core/signal/settle.ts';
import { SETTLE_DEFAULTS, type SettleOptions } from '../../../core/signal/settleOptions.ts';
import { checkWindow, emptyCheck } from '../../../core/signal/windowCheck.ts';
import { createNoise, type Noise } from './noise.ts';

/** A load over time at each corner, newton. */
type Load = (corner: Corner, t: number) => number;

interface Run {
  /** Time of the first sample after which all four were settled; null for never. */
  readonly settledAt: number | null;
  /** How often *settled* was lost again. */
  readonly lost: number;
  /** Share of the looks, ten a second, at which all four were settled. */
  readonly share: number;
  readonly last: FourStillness;
  readonly settle: Settle;
}

const run = (
  noise: Noise,
  options: { readonly rate: number; readonly rms: number; readonly seconds: number },
  load: Load,
): Run => {
  const { rate, rms, seconds } = options;
  const settle = createSettle();
  const phase = perCorner(() => noise.uniform());
  let settledAt: number | null = null;
  let before = false;
  let lost = 0;
  let looks = 0;
  let seen = 0;
  for (let index = 0; index < seconds * rate; index += 1) {
    for (const corner of CORNERS) {
      const t = (index + phase[corner]) / rate;
      settle.corners[corner].push(t, load(corner, t) + rms * noise.normal());
    }
    if (index % (rate / 10) !== 0) continue;
    const settled = settle.now().stillness === 'settled';
    looks += 1;
    if (settled) seen += 1;
    if (settled) settledAt ??= (index + 1) / rate;
    if (before && !settled) lost += 1;
    before = settled;
  }
  return { settledAt, lost, share: seen / looks, last: settle.now(), settle };
};

/** A car let down at t = 2 s: second-order response of each corner. */
const drop =
  (hertz: number, damping: number): Load =>
  (corner, t) => {
    const since = t - 2;
    if (since < 0) return 0;
    const omega = 2 * Math.PI * hertz;
    const end = corner === 'LF' || corner === 'RF' ? 3000 : 3300;
    return (
      end *
      (1 -
        Math.exp(-damping * omega * since) *
          Math.cos(omega * Math.sqrt(1 - damping * damping) * since))
    );
  };

describe('a car comes to rest', () => {
  const cases = [
    [10, 2, 0.3, 0.05],
    [20, 2, 0.3, 0.05],
    [80, 2, 0.3, 0.05],
    [80, 3.5, 0.3, 0.5],
    [80, 5, 0.8, 0.5],
    [80, 3, 0.5, 3],
  ] as const;
  test.each(cases)('%d Hz, %d Hz rocking, damping %d, noise %d N', (rate, hertz, damping, rms) => {
    const noise = createNoise(21);
    const found = run(noise, { rate, rms, seconds: 16 }, drop(hertz, damping));
    // The empty pads may be settled before the drop; the car must not be while it still swings.
    const after = run(createNoise(22), { rate, rms, seconds: 14 }, (corner, t) =>
      drop(hertz, damping)(corner, t + 2),
    );
    // Time for the envelope to fall to a tenth of a kilogram, from 330 kg.
    const envelope = Math.log(3300 / 1) / (damping * 2 * Math.PI * hertz);
    expect(after.settledAt).not.toBeNull();
    expect(after.settledAt as number).toBeGreaterThan(Math.min(envelope, 1.5));
    expect(after.settledAt as number).toBeLessThan(envelope + 1.5 + (rms > 1 ? 6 : 1));
    const mean = after.settle.corners.LF.now().settled;
    if (rms < 1) {
      expect(found.last.stillness).toBe('settled');
      expect(Math.abs((mean?.mean ?? 0) - 3000)).toBeLessThan(4 * (mean?.u ?? 0) + 0.02);
    }
  });

  test('moving, then calming, then settled, and not back', () => {
    const noise = createNoise(23);
    const settle = createSettle();
    const words: string[] = [];
    for (let index = 0; index < 80 * 12; index += 1) {
      const t = index / 80;
      for (const corner of CORNERS)
        settle.corners[corner].push(t, drop(2, 0.3)(corner, t) + 0.05 * noise.normal());
      const word = settle.now().stillness ?? 'unknown';
      if (word !== words.at(-1)) words.push(word);
    }
    expect(words).toEqual(['unknown', 'calming', 'settled', 'moving', 'calming', 'settled']);
  });
});

describe('what must not be called settled', () => {
  const quiet = { rate: 80, rms: 0.05, seconds: 20 };

  test.each([0.5, 1, 5, 50])('a steady drift of %d N/s at one corner', (drift) => {
    const found = run(createNoise(31), quiet, (corner, t) => (corner === 'RR' ? drift * t : 800));
    expect(found.settledAt).toBeNull();
  });

  test.each([
    [2, 2],
    [5, 2],
    [5, 3],
    [2, 0.5],
    [20, 5],
  ])('a rocking of %d N at %d Hz from side to side', (size, hertz) => {
    const found = run(createNoise(32), quiet, (corner, t) => {
      const side = corner === 'LF' || corner === 'LR' ? 1 : -1;
      return 3000 + side * size * Math.sin(2 * Math.PI * hertz * t);
    });
    expect(found.settledAt).toBeNull();
  });

  test('one corner alone that goes on moving', () => {
    const found = run(createNoise(33), quiet, (corner, t) =>
      corner === 'LR' ? 3000 + 30 * Math.sin(t) : 3000,
    );
    expect(found.settledAt).toBeNull();
    expect(found.settle.corners.LF.now().stillness).toBe('settled');
    expect(found.settle.corners.LR.now().stillness).not.toBe('settled');
  });

  test('a slow drift, once a longer window shows it, and it stays out', () => {
    const found = run(createNoise(34), quiet, (_corner, t) => 3000 + 0.18 * t);
    expect(found.lost).toBeLessThanOrEqual(1);
    expect(found.last.stillness).toBe('calming');
  });

  test('noise so harsh that the mean is not known', () => {
    const found = run(createNoise(35), { rate: 10, rms: 10, seconds: 20 }, () => 3000);
    expect(found.settledAt).toBeNull();
  });
});

describe('steadiness of the verdict', () => {
  test.each([
    [80, 0.05],
    [80, 0.5],
    [20, 0.2],
    [10, 0.13],
  ])('a car at rest, %d Hz and %d N of noise, is settled soon and stays so', (rate, rms) => {
    for (let seed = 41; seed < 49; seed += 1) {
      const found = run(createNoise(seed), { rate, rms, seconds: 25 }, () => 3000);
      expect(found.settledAt).toBeLessThan(2.5);
      expect(found.lost).toBe(0);
    }
  });

  test('300 g of noise at 80 Hz still settles', () => {
    const shares = Array.from(
      { length: 8 },
      (_, index) => run(createNoise(51 + index), { rate: 80, rms: 3, seconds: 20 }, () => 3000).share,
    );
    expect(Math.min(...shares)).toBeGreaterThan(0.5);
  });
});

describe('gaps', () => {
  const fill = (settle: Settle, from: number, to: number, noise: Noise): void => {
    for (let index = Math.ceil(from * 80); index < to * 80; index += 1)
      for (const corner of CORNERS)
        settle.corners[corner].push(index / 80, 3000 + 0.05 * noise.normal());
  };

  test('a gap makes its corner unknown at once and takes a window to heal', () => {
    const noise = createNoise(61);
    const settle = createSettle();
    fill(settle, 0, 4, noise);
    expect(settle.now().stillness).toBe('settled');
    settle.corners.RF.gap();
    expect(settle.corners.RF.now().stillness).toBeNull();
    expect(settle.now()).toMatchObject({ stillness: null, since: null, settled: null });
    fill(settle, 4, 5.4, noise);
    expect(settle.now().stillness).not.toBe('settled');
    expect(settle.corners.LF.now().stillness).toBe('settled');
    fill(settle, 5.4, 6, noise);
    expect(settle.now().stillness).toBe('settled');
    expect(settle.now().since).toBeGreaterThan(5.4);
  });

  test('a jump in time counts as one, a single lost sample does not', () => {
    const noise = createNoise(62);
    const settle = createSettle();
    fill(settle, 0, 4, noise);
    fill(settle, 4.05, 4.2, noise);
    expect(settle.now().stillness).toBe('settled');
    fill(settle, 4.5, 4.6, noise);
    expect(settle.corners.LF.now().stillness).toBeNull();
  });
});

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
  const tickOf = ({ t }: Sample): number => Math.ceil(t / options.tick);
  const first = tickOf(samples[0] as Sample);
  const end = tickOf(samples.at(-1) as Sample);
  const spans = [options.window, ...options.longer];
  const inTicks = (after: number, upTo: number): Sample[] =>
    samples.filter((sample) => tickOf(sample) > after && tickOf(sample) <= upTo);
  const middle = (kept: readonly Sample[]): Sample => ({
    t: kept.reduce((sum, { t }) => sum + t, 0) / kept.length,
    x: kept.reduce((sum, { x }) => sum + x, 0) / kept.length,
  });

  let since: number | null = null;
  let mean: number | null = null;
  let passed = 0;
  let failed = 0;
  for (let tick = first; tick < end; tick += 1) {
    const checks = spans.map((span, level) => {
      const ticks = Math.round(span / options.tick);
      if (first > tick - ticks) return null;
      const whole = inTicks(tick - ticks, tick);
      const blocks = Array.from({ length: ticks }, (_, index) =>
        inTicks(tick - ticks + index, tick - ticks + index + 1),
      ).flatMap((block) => (block.length > 0 ? [middle(block)] : []));
      const series = level === 0 ? whole : blocks;
      const check = emptyCheck();
      checkWindow(
        {
          times: Float64Array.from(series, ({ t }) => t),
          values: Float64Array.from(series, ({ x }) => x),
          residuals: new Float64Array(series.length),
          count: series.length,
          from: (tick - ticks) * options.tick,
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
      const wobbling = check.wobble / Math.max(options.wobble, check.wobbleByNoise);
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
    const worst = Math.max(Math.min(...failings), ...drifts);
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
    const best = level >= 0 ? level : failings.indexOf(Math.min(...failings));
    mean = since === null ? null : (checks[best]?.check.mean ?? null);
  }
  return { since, mean };
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
      seed: fc.integer(),
    });
    fc.assert(
      fc.property(shapes, ({ rate, seconds, rms, hertz, size, drift, kick, seed }) => {
        const noise = createNoise(seed);
        const samples = Array.from({ length: Math.ceil(rate * seconds) }, (_, index) => {
          const t = (index + noise.uniform() / 2) / rate;
          const swing = size * Math.exp(-2 * hertz * t) * Math.cos(2 * Math.PI * hertz * t);
          const kicked = t > kick ? 40 : 0;
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
        return { t, force: drop(3, 0.4)(corner, t) + 0.3 * noise.normal() };
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

test('95 % intervals of the settled mean cover, and say no more than they know', () => {
  const noise = createNoise(81);
  let inside = 0;
  let looked = 0;
  for (let again = 0; again < 250; again += 1) {
    const { settle } = run(noise, { rate: 80, rms: 0.5, seconds: 2.2 }, () => 3000);
    for (const corner of CORNERS) {
      const { settled } = settle.corners[corner].now();
      if (!settled) continue;
      looked += 1;
      if (Math.abs(settled.mean - 3000) <= 2.2 * settled.u) inside += 1;
    }
  }
  expect(looked).toBeGreaterThan(800);
  expect(inside / looked).toBeGreaterThan(0.92);
  expect(inside / looked).toBeLessThan(0.995);
});
