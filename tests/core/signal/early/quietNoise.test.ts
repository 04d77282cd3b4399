import { expect, test } from 'vitest';
import { createQuietNoise } from '../../../../core/signal/early/quietNoise.ts';
import { createNoise } from '../noise.ts';

const RATE = 80;

test('noise at rest is learned, and motion does not change it', () => {
  const chance = createNoise(31);
  const quiet = createQuietNoise();
  expect(quiet.dof).toBe(0);
  for (let k = 0; k < RATE * 5; k += 1) quiet.push(k / RATE, 3000 + 0.5 * chance.normal());
  const known = quiet.variance;
  // 0.25 N² with some 340 degrees of freedom: a relative standard deviation of 0.08.
  expect(known / 0.25).toBeGreaterThan(0.76);
  expect(known / 0.25).toBeLessThan(1.24);
  for (let k = RATE * 5; k < RATE * 9; k += 1)
    quiet.push(k / RATE, 3000 + 200 * Math.sin(18 * (k / RATE)) + 0.5 * chance.normal());
  expect(quiet.variance).toBe(known);
});

test('noise that has grown for good is learned anew within half a minute', () => {
  const chance = createNoise(32);
  const quiet = createQuietNoise();
  for (let k = 0; k < RATE * 60; k += 1)
    quiet.push(k / RATE, 3000 + (k < RATE * 30 ? 0.05 : 1) * chance.normal());
  expect(Math.sqrt(quiet.variance)).toBeGreaterThan(0.8);
  expect(Math.sqrt(quiet.variance)).toBeLessThan(1.2);
});

test('a pad that shows one step while it is empty is not without noise', () => {
  const chance = createNoise(33);
  const quiet = createQuietNoise();
  for (let k = 0; k < RATE * 5; k += 1) quiet.push(k / RATE, 0);
  expect(quiet.dof).toBe(0);
  for (let k = RATE * 5; k < RATE * 8; k += 1) quiet.push(k / RATE, 3000 + chance.normal());
  expect(quiet.dof).toBeGreaterThan(100);
  expect(quiet.variance).toBeGreaterThan(0.6);
});
