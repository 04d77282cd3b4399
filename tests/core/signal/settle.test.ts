import { describe, expect, test } from 'vitest';
import { CORNERS, perCorner, type Corner } from '../../../core/corners.ts';
import { createSettle, type FourStillness, type Settle } from '../../../core/signal/settle.ts';
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
      (_, index) =>
        run(createNoise(51 + index), { rate: 80, rms: 3, seconds: 20 }, () => 3000).share,
    );
    expect(Math.min(...shares)).toBeGreaterThan(0.5);
  });
});

test('the first moment of a motion is not in the window that is shown', () => {
  const settle = createSettle();
  const noise = createNoise(55);
  const push = (t: number, force: number): void => {
    for (const corner of CORNERS) settle.corners[corner].push(t, force + 0.05 * noise.normal());
  };
  for (let index = 0; index < 400; index += 1) push(index / 80, 3000);
  const before = settle.now();
  expect(before.stillness).toBe('settled');
  // A hand leans on it, 4 N more with every sample.
  let last = before.settled;
  for (let index = 400; index < 480; index += 1) {
    push(index / 80, 3000 + 4 * (index - 399));
    const { settled } = settle.now();
    if (settled) last = settled;
    const corner = settle.corners.LF.now().settled;
    if (corner) expect(Math.abs(corner.mean - 3000)).toBeLessThan(0.2);
  }
  expect(settle.now().stillness).toBe('moving');
  expect(last?.to).toBeLessThanOrEqual(5.1);
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
