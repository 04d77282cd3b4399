import { describe, expect, test } from 'vitest';
import { correlationLags } from '../../../core/signal/correlationLags.ts';
import { longRunCovariance, windowWidth } from '../../../core/signal/longRunCovariance.ts';
import { checkWindow, emptyCheck, type WindowCheck } from '../../../core/signal/windowCheck.ts';
import { wobbleByNoise } from '../../../core/signal/wobbleByNoise.ts';
import { createNoise } from './noise.ts';

const check = (times: readonly number[], values: readonly number[], span: number): WindowCheck => {
  const out = emptyCheck();
  checkWindow(
    {
      times: Float64Array.from(times),
      values: Float64Array.from(values),
      residuals: new Float64Array(times.length),
      start: 0,
      count: times.length,
      from: 0,
      span,
    },
    out,
  );
  return out;
};

test('line, error, range of sixths and noise floor are the textbook’s', () => {
  const noise = createNoise(91);
  const times = Array.from({ length: 60 }, (_, index) => (index + 0.3) / 40);
  const values = times.map((t) => 500 + 0.7 * t + noise.normal());
  const found = check(times, values, 1.5);

  // Normal equations, solved as two linear equations.
  const [n, st, stt] = [60, sum(times), sum(times.map((t) => t * t))];
  const [sx, stx] = [sum(values), sum(values.map((x, index) => x * (times[index] as number)))];
  const slope = (n * stx - st * sx) / (n * stt - st * st);
  const level = (sx - slope * st) / n;
  const residuals = values.map((x, index) => x - level - slope * (times[index] as number));
  expect(found.slope).toBeCloseTo(slope, 8);
  expect(found.mean).toBeCloseTo(sx / n, 9);
  expect(found.drift).toBeCloseTo(Math.abs(slope) * 1.5, 8);

  const width = windowWidth(correlationLags(residuals, n), n);
  const [variance] = longRunCovariance([Float64Array.from(residuals)], width) as [number];
  const whole = (variance * (1 - width / n)) / (1 - (2 * width) / n);
  expect(found.u).toBeCloseTo(Math.sqrt(whole), 9);
  expect(found.slopeError).toBeCloseTo(Math.sqrt((whole * n) / (stt - (st * st) / n)), 8);

  const sixths = Array.from({ length: 6 }, (_, index) =>
    residuals.slice(10 * index, 10 * index + 10),
  ).map((own) => sum(own) / own.length);
  expect(found.wobble).toBeCloseTo(Math.max(...sixths) - Math.min(...sixths), 8);

  const bends = values
    .slice(2)
    .map((value, index) => value - 2 * (values[index + 1] as number) + (values[index] as number));
  const floor = sum(bends.map((bend) => bend * bend)) / (6 * 58);
  expect(wobbleByNoise(Float64Array.from(values), 0, 60)).toBeCloseTo(5 * Math.sqrt(floor / 10), 8);
});

describe('the upper bound of the drift', () => {
  test('is above the true drift in 95 % of windows or more, also with correlated noise', () => {
    const noise = createNoise(92);
    const times = Array.from({ length: 120 }, (_, index) => index / 80);
    for (const rho of [0, 0.5]) {
      let above = 0;
      let value = 0;
      for (let run = 0; run < 1000; run += 1) {
        const values = times.map((t) => {
          value = rho * value + noise.normal();
          return 2 * t + value;
        });
        if (check(times, values, 1.5).driftBound >= 3) above += 1;
      }
      expect(above / 1000).toBeGreaterThan(0.93);
    }
  });

  test('a drift without noise is known exactly', () => {
    const times = Array.from({ length: 30 }, (_, index) => index / 20);
    const found = check(
      times,
      times.map((t) => 8 * t),
      1.5,
    );
    expect(found.driftBound).toBeCloseTo(12, 6);
    expect(found.wobble).toBeCloseTo(0, 9);
  });
});

test('the noise allowed to the wobble does not shrink where values are repeated', () => {
  const noise = createNoise(93);
  const floors = [1, 4].map((repeats) => {
    let sumOfFloors = 0;
    for (let run = 0; run < 100; run += 1) {
      let held = 0;
      const values = Array.from({ length: 120 }, (_, index) => {
        if (index % repeats === 0) held = noise.normal();
        return held;
      });
      sumOfFloors += wobbleByNoise(Float64Array.from(values), 0, 120);
    }
    return sumOfFloors / 100;
  });
  // A quarter of the values: twice the standard deviation of their means.
  expect((floors[1] as number) / (floors[0] as number)).toBeCloseTo(2, 0);
});

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
