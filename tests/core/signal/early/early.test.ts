import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CORNERS, perCorner } from '../../../../core/corners.ts';
import { createEarly, type EarlyLook } from '../../../../core/signal/early/early.ts';
import { WANTED } from '../../../studies/boundTime.ts';
import { droppedCar, loadOf, type ModalCar } from '../../../studies/modalCar.ts';
import { halfWidth } from '../../../studies/timeToSettled.ts';
import { createNoise, type Noise } from '../noise.ts';

const LET_GO = 1.5;
const FALL = droppedCar(3, 0.4);

interface Stream {
  readonly load: (pad: number, t: number) => number;
  readonly noise: number;
  readonly seconds: number;
  readonly rate?: number;
  /** What becomes of a sample: other times or values, or null where it is lost. */
  readonly change?: (t: number, force: number, pad: number) => { t: number; force: number } | null;
  readonly chance?: Noise;
}

/** Looks ten times a second at four streams; what was seen, by time. */
const watch = (stream: Stream): { readonly t: number; readonly look: EarlyLook }[] => {
  const { load, noise, seconds, rate = 80, change, chance = createNoise(5) } = stream;
  const early = createEarly();
  const next = CORNERS.map((_, pad) => (pad + 0.3) / 4 / rate);
  return Array.from({ length: seconds * 10 }, (_, index) => {
    const now = (index + 1) / 10;
    CORNERS.forEach((corner, pad) => {
      for (let t = next[pad] as number; t <= now; t += 1 / rate) {
        next[pad] = t + 1 / rate;
        const force = load(pad, t) + noise * chance.normal();
        const sample = change ? change(t, force, pad) : { t, force };
        if (sample) early.corners[corner].push(sample.t, sample.force);
      }
    });
    return { t: now, look: early.look() };
  });
};

const dropped =
  (car: ModalCar): Stream['load'] =>
  (pad, t) =>
    loadOf(car, pad, t - LET_GO);

/** Time after which a reading within ±0.2 kg was first there; errors of all such, N. */
const judge = (
  seen: readonly { readonly t: number; readonly look: EarlyLook }[],
  truth: readonly number[],
  from = LET_GO,
): { readonly first: number | null; readonly worst: number } => {
  let first: number | null = null;
  let worst = 0;
  for (const { t, look } of seen) {
    if (!look.ok || look.reading.to <= from || halfWidth(look.reading) > WANTED) continue;
    first ??= t - from;
    CORNERS.forEach((corner, pad) => {
      worst = Math.max(
        worst,
        Math.abs(look.reading.corners[corner].value - (truth[pad] as number)),
      );
    });
  }
  return { first, worst };
};

describe('says where a car will settle while it moves', () => {
  test.each([
    [2, 0.3],
    [3.5, 0.3],
    [2.5, 0.6],
    [3, 0.9],
    [3, 1],
    [3, 1.05],
    [2.5, 1.2],
  ])('%d Hz, damping %d', (hertz, damping) => {
    const car = droppedCar(hertz, damping);
    const { first, worst } = judge(
      watch({ load: dropped(car), noise: 0.05, seconds: 4 }),
      car.settled,
    );
    expect(first).not.toBeNull();
    expect(first as number).toBeLessThan(1.3);
    expect(worst).toBeLessThan(WANTED);
  });

  test('its intervals hold, and its modes are those of the car', () => {
    const car = droppedCar(2.6, 0.4);
    let held = 0;
    let of = 0;
    for (let seed = 0; seed < 12; seed += 1) {
      const seen = watch({
        load: dropped(car),
        noise: 0.3,
        seconds: 3.2,
        chance: createNoise(600 + seed),
      });
      for (const { t, look } of seen) {
        if (!look.ok || t < LET_GO + 0.4) continue;
        CORNERS.forEach((corner, pad) => {
          const { value, u } = look.reading.corners[corner];
          of += 1;
          if (Math.abs(value - (car.settled[pad] as number)) <= 2 * u) held += 1;
        });
      }
      const last = seen.at(-1)?.look;
      if (last?.ok !== true) continue;
      expect(last.reading.provisional).toBe(true);
      [2.6, 3.12, 3.64].forEach((hertz, mode) => {
        expect(Math.abs((last.reading.modes[mode]?.hertz ?? 0) - hertz)).toBeLessThan(0.25);
      });
    }
    expect(of).toBeGreaterThan(400);
    expect(held / of).toBeGreaterThan(0.93);
  });

  test('the covariance is that of the corners', () => {
    const car = droppedCar(3, 0.5);
    const last = watch({ load: dropped(car), noise: 0.3, seconds: 3 }).at(-1)?.look;
    if (last?.ok !== true) throw new Error('it said nothing');
    const { corners, covariance } = last.reading;
    CORNERS.forEach((corner, i) => {
      expect(Math.sqrt(covariance[5 * i] as number)).toBeCloseTo(corners[corner].u, 12);
      CORNERS.forEach((_, j) => {
        expect(covariance[4 * i + j]).toBeCloseTo(covariance[4 * j + i] as number, 12);
      });
    });
  });
});

describe('what a stream does to it', () => {
  const car = droppedCar(2.8, 0.4);
  const steady = { load: dropped(car), noise: 0.05, seconds: 4.5 };
  const expectGood = (seen: ReturnType<typeof watch>, within = 2): void => {
    const { first, worst } = judge(seen, car.settled);
    expect(first).not.toBeNull();
    expect(first as number).toBeLessThan(within);
    expect(worst).toBeLessThan(WANTED);
  };

  test('times in whole milliseconds, by packets of two', () => {
    const before = new Map<number, { count: number; t: number }>();
    expectGood(
      watch({
        ...steady,
        change: (t, force, pad) => {
          const { count, t: start } = before.get(pad) ?? { count: 0, t: 0 };
          const first = count % 2 === 0 ? Math.round(t * 1000) / 1000 : start;
          before.set(pad, { count: count + 1, t: first });
          return { t: first + (count % 2) / 80, force };
        },
      }),
    );
  });

  test('a tenth of the samples lost, and a gap of 0.15 s in the middle of the motion', () => {
    const chance = createNoise(77);
    expectGood(
      watch({
        ...steady,
        change: (t, force, pad) => {
          const inGap = pad === 2 && t > LET_GO + 0.3 && t < LET_GO + 0.45;
          return inGap || chance.uniform() < 0.1 ? null : { t, force };
        },
      }),
    );
  });

  test('a pad that comes in bursts of six samples', () => {
    const held: { t: number; force: number }[] = [];
    const early = createEarly();
    const chance = createNoise(78);
    let good = 0;
    for (let k = 0; k < 80 * 4; k += 1) {
      CORNERS.forEach((corner, pad) => {
        const t = (k + pad / 4) / 80;
        const force = loadOf(car, pad, t - LET_GO) + 0.05 * chance.normal();
        if (pad !== 1) return early.corners[corner].push(t, force);
        held.push({ t, force });
        if (held.length === 6)
          for (const one of held.splice(0)) early.corners.RF.push(one.t, one.force);
      });
      if (k % 8 !== 7) continue;
      const look = early.look();
      if (look.ok && look.reading.from > LET_GO - 0.02 && halfWidth(look.reading) <= WANTED) {
        good += 1;
        expect(Math.abs(look.reading.corners.RF.value - (car.settled[1] as number))).toBeLessThan(
          WANTED,
        );
      }
    }
    expect(good).toBeGreaterThan(8);
  });

  test('values that a converter repeats three times', () => {
    const kept = new Map<number, { count: number; force: number }>();
    expectGood(
      watch({
        ...steady,
        seconds: 5,
        change: (t, force, pad) => {
          const { count, force: last } = kept.get(pad) ?? { count: 0, force: 0 };
          const shown = count % 3 === 0 ? force : last;
          kept.set(pad, { count: count + 1, force: shown });
          return { t, force: shown };
        },
      }),
    );
  });

  test('a spike that slipped through may silence it, never bend it', () => {
    const seen = watch({
      ...steady,
      change: (t, force, pad) => ({
        t,
        force: pad === 3 && Math.abs(t - LET_GO - 0.6) < 1 / 160 ? force + 400 : force,
      }),
    });
    expectGood(seen, 2.5);
  });

  test('noise with a memory widens it and does not stop it', () => {
    const state = [0, 0, 0, 0];
    const chance = createNoise(79);
    let held = 0;
    let of = 0;
    const seen = watch({
      load: dropped(car),
      noise: 0,
      seconds: 5,
      change: (t, force, pad) => {
        state[pad] = 0.6 * (state[pad] as number) + 0.24 * chance.normal();
        return { t, force: force + (state[pad] as number) };
      },
    });
    for (const { t, look } of seen) {
      if (!look.ok || t < LET_GO + 0.5) continue;
      CORNERS.forEach((corner, pad) => {
        const { value, u } = look.reading.corners[corner];
        of += 1;
        if (Math.abs(value - (car.settled[pad] as number)) <= 2.1 * u) held += 1;
      });
    }
    expect(of).toBeGreaterThan(40);
    expect(held / of).toBeGreaterThan(0.9);
  });
});

describe('what is no free motion', () => {
  test('a car that sticks: what was said before is given up, what is said after is right', () => {
    const car = droppedCar(2.2, 0.3);
    const stuckAt = LET_GO + 0.72;
    const load: Stream['load'] = (pad, t) => loadOf(car, pad, Math.min(t, stuckAt) - LET_GO);
    const truth = CORNERS.map((_, pad) => load(pad, stuckAt));
    const off = Math.max(...truth.map((value, pad) => Math.abs(value - (car.settled[pad] ?? 0))));
    expect(off).toBeGreaterThan(50);
    const { first, worst } = judge(watch({ load, noise: 0.05, seconds: 5 }), truth, stuckAt + 0.02);
    expect(first).not.toBeNull();
    expect(first as number).toBeLessThan(1.6);
    expect(worst).toBeLessThan(WANTED);
  });

  test('a jack that goes on lowering is not extrapolated', () => {
    const load: Stream['load'] = (pad, t) => {
      const p = Math.min(1, Math.max(0, (t - 1) / 3));
      return 3000 * p * p * (3 - 2 * p) + 20 * pad;
    };
    for (const { t, look } of watch({ load, noise: 0.05, seconds: 4 })) {
      if (t < 1.2 || t > 3.8 || !look.ok) continue;
      const isRight = Math.abs(look.reading.corners.LF.value - 3000) < WANTED;
      expect(isRight || halfWidth(look.reading) > WANTED).toBe(true);
    }
  });

  test('a landing of one wheel after the other', () => {
    const car = droppedCar(2.5, 0.4);
    const load: Stream['load'] = (pad, t) =>
      loadOf(car, pad, t - LET_GO) + (t > LET_GO + 0.2 ? 0 : pad === 0 ? 400 : 0);
    const { first, worst } = judge(
      watch({ load, noise: 0.05, seconds: 5 }),
      car.settled,
      LET_GO + 0.25,
    );
    expect(first).not.toBeNull();
    expect(worst).toBeLessThan(WANTED);
  });
});

test('says nothing while a pad is not heard, and begins anew when told to', () => {
  const early = createEarly();
  expect(early.look()).toEqual({ ok: false, why: 'not enough samples' });
  const chance = createNoise(91);
  const push = (t: number, pads: readonly number[]): void =>
    pads.forEach((pad) => {
      const corner = CORNERS[pad];
      if (corner) early.corners[corner].push(t + pad / 400, 3000 + 0.05 * chance.normal());
    });
  for (let k = 0; k < 80; k += 1) push(k / 80, [0, 1, 2, 3]);
  expect(early.look().ok).toBe(true);
  for (let k = 80; k < 120; k += 1) push(k / 80, [0, 1, 2]);
  expect(early.look()).toEqual({ ok: false, why: 'not enough samples' });
  for (let k = 120; k < 180; k += 1) push(k / 80, [0, 1, 2, 3]);
  expect(early.look().ok).toBe(true);
  early.restart();
  expect(early.look()).toEqual({ ok: false, why: 'not enough samples' });
  for (let k = 180; k < 260; k += 1) push(k / 80, [0, 1, 2, 3]);
  expect(early.look().ok).toBe(true);
});

test('samples that are not finite or do not rise in time are left out', () => {
  const clean = createEarly();
  const dirty = createEarly();
  const chance = createNoise(92);
  for (let k = 0; k < 120; k += 1)
    perCorner((corner) => {
      const force = 3000 + 0.1 * chance.normal();
      clean.corners[corner].push(k / 80, force);
      dirty.corners[corner].push(k / 80, force);
      dirty.corners[corner].push(k / 80 + 0.001, NaN);
      dirty.corners[corner].push(k / 80 - 0.3, 9000);
      return null;
    });
  expect(dirty.look()).toEqual(clean.look());
});

test('whatever the pads send, it says a finite reading or nothing', () => {
  const kinds = ['noise', 'jumps', 'ramp', 'constant', 'huge', 'fall'] as const;
  const shapes = fc.record({
    kinds: fc.array(fc.constantFrom(...kinds), { minLength: 4, maxLength: 4 }),
    rate: fc.constantFrom(10, 40, 80, 320),
    rms: fc.constantFrom(0, 1e-6, 0.5, 50),
    lost: fc.constantFrom(0, 0.3),
    seed: fc.integer(),
  });
  fc.assert(
    fc.property(shapes, ({ kinds: four, rate, rms, lost, seed }) => {
      const chance = createNoise(seed);
      const early = createEarly();
      for (let k = 0; k < 3 * rate; k += 1) {
        CORNERS.forEach((corner, pad) => {
          const t = (k + pad / 4) / rate;
          if (chance.uniform() < lost) return early.corners[corner].gap();
          const force = {
            noise: 0,
            jumps: chance.uniform() < 0.02 ? 1e4 : 0,
            ramp: 500 * t,
            constant: 3000,
            huge: 1e9 * Math.sin(40 * t),
            fall: loadOf(FALL, pad, t - 1),
          }[four[pad] ?? 'noise'];
          early.corners[corner].push(t, force + rms * chance.normal());
        });
        if (k % 8 !== 0) continue;
        const look = early.look();
        if (!look.ok) continue;
        const { corners, covariance, slopes } = look.reading;
        for (const corner of CORNERS) {
          expect(Number.isFinite(corners[corner].value)).toBe(true);
          expect(corners[corner].u).toBeGreaterThan(0);
          expect(Number.isFinite(slopes[corner])).toBe(true);
        }
        expect(covariance.every(Number.isFinite)).toBe(true);
      }
    }),
    { seed: 17, numRuns: 30 },
  );
});
