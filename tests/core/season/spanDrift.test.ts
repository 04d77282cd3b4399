import { expect, test } from 'vitest';
import { spanDrift } from '../../../core/season/spanDrift.ts';
import { studentT } from '../../../core/signal/studentT.ts';
import { createNoise } from '../signal/noise.ts';

const DAY = 86_400;

test('never checked is not known, which is not no drift', () => {
  const question = { at: 100 * DAY, uMass: 0 };
  expect(spanDrift([], question)).toEqual({ known: false });
  expect(spanDrift([{ sinceCalibration: 0, relative: 1e-3, u: 1e-4 }], question)).toEqual({
    known: false,
  });
});

test('one check: the line through zero and it, computed by hand', () => {
  const found = spanDrift([{ sinceCalibration: 50 * DAY, relative: 4e-4, u: 1e-4 }], {
    at: 100 * DAY,
    uMass: 5e-5,
  });
  if (!found.known) throw new Error('not known');
  expect(found.drift.value).toBeCloseTo(8e-4, 12);
  expect(found.drift.u).toBeCloseTo(2 * Math.hypot(1e-4, 5e-5), 12);
  expect(found).toMatchObject({ verdict: 'drifts', extrapolated: true });
  expect(found.ifLeftIn).toBeCloseTo(Math.hypot(8e-4, 2 * Math.hypot(1e-4, 5e-5)), 12);
});

test('the mass is wrong alike in every check: more checks do not average it away', () => {
  const checks = Array.from({ length: 400 }, () => ({
    sinceCalibration: 100 * DAY,
    relative: 0,
    u: 1e-4,
  }));
  const found = spanDrift(checks, { at: 100 * DAY, uMass: 5e-5 });
  if (!found.known) throw new Error('not known');
  expect(found.drift.u).toBeCloseTo(Math.hypot(1e-4 / 20, 5e-5), 9);
});

test('intervals hold the drift put in, and no drift is called one in 5 %', () => {
  const noise = createNoise(61);
  const runs = 2000;
  let [inside, called] = [0, 0];
  for (let run = 0; run < runs; run += 1) {
    const at = 200 * DAY;
    const mass = 2e-5 * noise.normal();
    const checks = (rate: number) =>
      [20, 55, 90, 150, 190].map((day) => ({
        sinceCalibration: day * DAY,
        relative: rate * day * DAY + mass + 1e-4 * noise.normal(),
        u: 1e-4,
      }));
    const rate = 1e-6 / DAY;
    const found = spanDrift(checks(rate), { at, uMass: 2e-5 });
    if (!found.known) throw new Error('not known');
    const reach = studentT(0.05, found.drift.dof) * found.drift.u;
    if (Math.abs(found.drift.value - rate * at) < reach) inside += 1;
    const still = spanDrift(checks(0), { at, uMass: 2e-5 });
    if (still.known && still.verdict === 'drifts') called += 1;
  }
  // Widening by the scatter and never narrowing makes it a little too safe.
  expect(inside / runs).toBeGreaterThan(0.945);
  expect(called / runs).toBeLessThan(0.055);
});

test('what is no check is refused', () => {
  expect(() =>
    spanDrift([{ sinceCalibration: 1, relative: 0, u: 0 }], { at: 1, uMass: 0 }),
  ).toThrow(RangeError);
});
