import { describe, expect, test } from 'vitest';
import { flatPatchAnswer } from '../../../core/answers/flatPatchAnswer.ts';
import { CORNERS, perCorner } from '../../../core/corners.ts';
import { judgePatch, patchEffects } from '../../../core/flatPatch/effect.ts';
import { levelPatch } from '../../../core/flatPatch/levelPatch.ts';
import { sightsNeeded } from '../../../core/flatPatch/sightsNeeded.ts';
import { EXAMPLE_CAR, EXAMPLE_CAR_MASS } from '../../../core/sheet/car.ts';
import { kilogram, metre, metrePerSecond2 } from '../../../core/units.ts';
import { createNoise } from '../signal/noise.ts';
import { LEVEL_PADS, padPoints, readSurvey, type TruePad } from './simulatedPatch.ts';

const standing = {
  car: EXAMPLE_CAR,
  mass: kilogram(EXAMPLE_CAR_MASS.mass),
  frontShare: EXAMPLE_CAR_MASS.frontShare,
  cgLeft: metre(EXAMPLE_CAR_MASS.cgLeft),
  gravity: metrePerSecond2(9.813654),
};
/** The design's values keep the centre of gravity where it is under tilt. */
const noTilt = { ...standing, car: { ...EXAMPLE_CAR, cgHeight: null } };
const raised = (pad: 'LF' | 'RF' | 'LR' | 'RR', height: number) => ({
  ...LEVEL_PADS,
  [pad]: { ...LEVEL_PADS[pad], height },
});
const surveyed = (
  pads: Readonly<Record<'LF' | 'RF' | 'LR' | 'RR', TruePad>>,
  sd: number,
  seed = 1,
) => {
  const patch = levelPatch(
    EXAMPLE_CAR,
    readSurvey(pads, { points: padPoints(5), repeats: 3, noise: createNoise(seed), sd }),
  );
  if (!patch.ok) throw new Error(patch.why);
  return patch;
};

describe('what a patch does to the car', () => {
  test('one pad 1 mm out of the plane costs 4.3 kg on every corner (design 6.2, derived)', () => {
    const { barsOff } = patchEffects(noTilt, surveyed(raised('RF', 0.001), 1e-6).heights);
    expect(CORNERS.map((corner) => barsOff.corners[corner].value.toFixed(1))).toEqual([
      '-4.3',
      '4.3',
      '4.4',
      '-4.4',
    ]);
    expect(barsOff.cross.value).toBeCloseTo((4.304 + 4.382) / 1305, 4);
  });

  test('with a front bar a pad costs more: ±5.302 kg at 60 N/mm (design 6.2, derived)', () => {
    const { barsOn } = patchEffects(noTilt, surveyed(raised('RF', 0.001), 1e-6).heights);
    expect(barsOn.corners.RF.value).toBeCloseTo(5.302, 1);
  });

  test('a slope across moves load by the height of the centre of gravity', () => {
    const pads = perCorner((corner) => ({
      height: 0.005 * (corner === 'LF' || corner === 'LR' ? 1 : -1),
      forward: 0,
      left: 0,
    }));
    const { slopeShift, barsOff } = patchEffects(standing, surveyed(pads, 1e-6).heights);
    // m·h·tan(slope)/track: 1305 × 0.43 × 0.010/1.665/1.665 = 2.02 kg from the high side to the low.
    expect(Math.abs(slopeShift?.value ?? 0)).toBeCloseTo(2.02, 1);
    expect(barsOff.camber.value).toBeCloseTo(0.01 / 1.665, 4);
  });

  test('a wanted cross weight: good, not good, cannot tell', () => {
    const wanted = 0.002;
    const of = (height: number, sd: number) =>
      judgePatch(
        patchEffects(standing, surveyed(raised('RF', height), sd).heights).barsOff,
        wanted,
      );
    expect(of(0.0001, 1e-5)).toBe('good enough');
    expect(of(0.001, 1e-5)).toBe('not good enough');
    expect(of(0.0003, 6e-4)).toBe('cannot tell');
  });

  test('in words', () => {
    const patch = surveyed(raised('RF', 0.00008), 1e-6);
    const effects = patchEffects(noTilt, patch.heights);
    const seen = {
      patch,
      effects,
      verdict: 'good enough',
      moved: null,
      massUnit: 'kg',
      labels: 'LF RF LR RR',
    } as const;
    expect(flatPatchAnswer(seen).text.replaceAll('\u00A0', ' ')).toMatch(
      /^Yes\. Twist 0\.08 mm ±<0\.01: 0\.35 kg on the worst corner, 0\.05 % cross\.$/,
    );
    expect(flatPatchAnswer({ ...seen, patch: null })).toMatchObject({ tone: 'wait' });
    expect(flatPatchAnswer({ ...seen, verdict: 'not good enough' }).tone).toBe('alarm');
  });
});

describe('sights', () => {
  test('how many are needed follows u² = Σn²·sd²/(points·sights)', () => {
    const n2 = 2 + 2 * (1.68 / 1.65) ** 2;
    const found = sightsNeeded(EXAMPLE_CAR, { wanted: 5e-5, sd: 1e-4, points: 5 });
    expect(found?.sights).toBe(Math.ceil((n2 * 1e-8) / (5 * 25e-10)));
    expect(sightsNeeded(EXAMPLE_CAR, { wanted: 1e-6, sd: 1e-3, points: 1 })).toBeNull();
  });

  test('the claimed uncertainty of the twist is what the survey then has', () => {
    const found = sightsNeeded(EXAMPLE_CAR, { wanted: 5e-5, sd: 1e-4, points: 5 });
    const patch = levelPatch(
      EXAMPLE_CAR,
      readSurvey(LEVEL_PADS, {
        points: padPoints(5),
        repeats: found?.sights ?? 0,
        noise: createNoise(5),
        sd: 1e-4,
        sightScatter: { sd: 1e-4, dof: Infinity },
      }),
    );
    if (!patch.ok) throw new Error(patch.why);
    expect(patch.twist.u).toBeCloseTo(found?.u ?? 0, 5);
  });
});
