import { expect, test } from 'vitest';
import { adviseSights, equalDistances } from '../../../core/flatPatch/adviseSights.ts';
import { levelPatch } from '../../../core/flatPatch/levelPatch.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { createNoise } from '../signal/noise.ts';
import { LASER, LEVEL_PADS, padPoints, readSurvey } from './simulatedPatch.ts';

const about = { cone: 1e-4, sd: 1e-4, points: 5, wanted: 5e-5 };

test('the best place is equally far from all four pads', () => {
  const { x, y } = equalDistances(EXAMPLE_CAR);
  expect(Math.hypot(x, 0.84 - y)).toBeCloseTo(Math.hypot(x + 2.7, 0.825 - y), 12);
  const { cone, best, words } = adviseSights(EXAMPLE_CAR, { ...about, place: { x, y } });
  expect(cone.twist).toBeCloseTo(0, 12);
  expect(cone.level).toBeCloseTo(0, 12);
  // √(1.345375² + 0.84²), by hand.
  expect(best.distance).toBeCloseTo(1.58607, 5);
  expect(words[0]?.replaceAll('\u00A0', ' ')).toContain('1.35 m behind the front axle');
});

test('the advice is what a survey then has, cone and all, from a place beside', () => {
  const place = { x: -0.6, y: 1.2 };
  const wanted = 7e-5;
  const advice = adviseSights(EXAMPLE_CAR, { ...about, place, wanted });
  expect(advice.cone.twist).toBeGreaterThan(3e-5);
  const u = (repeats: number): number => {
    const patch = levelPatch(
      EXAMPLE_CAR,
      readSurvey(LEVEL_PADS, {
        points: padPoints(5),
        repeats,
        noise: createNoise(5),
        sd: 1e-4,
        setUps: [{ id: '1', place }],
        instrument: { ...LASER, cone: 1e-4 },
        sightScatter: { sd: 1e-4, dof: Infinity },
      }),
    );
    if (!patch.ok) throw new Error(patch.why);
    return patch.twist.u;
  };
  expect(u(advice.sights!)).toBeLessThanOrEqual(1.02 * wanted);
  expect(u(advice.sights! - 1)).toBeGreaterThan(0.98 * wanted);
});

test('where the cone alone is more than wanted, no sights help', () => {
  const advice = adviseSights(EXAMPLE_CAR, { ...about, place: { x: 0, y: 0.8 }, wanted: 3e-5 });
  expect(advice.sights).toBeNull();
  expect(advice.words.join(' ')).toMatch(/no repeats take away.*move the laser/);
});
