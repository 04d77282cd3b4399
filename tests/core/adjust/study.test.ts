import { expect, test } from 'vitest';
import { mistakeFigures, setUpFigures } from '../../studies/adjust.ts';

/** The reduced twin of tests/studies/adjust.ts, its first seeds. */

const seeds = (count: number): readonly number[] => Array.from({ length: count }, (_, i) => i + 1);

test.each([6, 4])('cars off their data sheets, steps of 1/%i turn, two rounds', (stepsPerTurn) => {
  const found = setUpFigures(seeds(24), { stepsPerTurn, rounds: 2, way: 'heights each call' });
  // Wanted of 500 is 95 %; of 24 one more may miss by chance.
  expect(found.within).toBeGreaterThanOrEqual(22 / 24);
  expect(found.ratio).toBeLessThan(0.5);
  expect(found.cross.learnt).toBeLessThan(found.cross.sheet / 2);
  expect(found.surprised).toBeLessThan(0.15);
});

test('raised for the turns, three rounds do what two do on the pads', () => {
  const found = setUpFigures(seeds(12), { stepsPerTurn: 6, rounds: 3, way: 'raised' });
  expect(found.within).toBeGreaterThanOrEqual(10 / 12);
});

test('half-turn mistakes are told within two seconds, and right calls are not', () => {
  const found = mistakeFigures(seeds(16));
  expect(found.recognised).toBeGreaterThanOrEqual(0.98);
  expect(found.falseAlarms).toBe(0);
  expect(found.latest).toBeLessThan(2);
});
