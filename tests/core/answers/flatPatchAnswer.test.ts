import { expect, test } from 'vitest';
import { flatPatchAnswer, type PatchSeen } from '../../../core/answers/flatPatchAnswer.ts';
import { patchEffects } from '../../../core/flatPatch/effect.ts';
import { levelPatch } from '../../../core/flatPatch/levelPatch.ts';
import { EXAMPLE_CAR, EXAMPLE_CAR_MASS } from '../../../core/sheet/car.ts';
import { kilogram, metre, metrePerSecond2 } from '../../../core/units.ts';
import { createNoise } from '../signal/noise.ts';
import { LEVEL_PADS, padPoints, readSurvey } from '../flatPatch/simulatedPatch.ts';

/** A survey of a patch whose right front is 1 mm high: 4.3 kg on every corner (the design's value). */
const patch = levelPatch(
  { ...EXAMPLE_CAR, cgHeight: null },
  readSurvey(
    { ...LEVEL_PADS, RF: { ...LEVEL_PADS.RF, height: 0.001 } },
    { points: padPoints(5), repeats: 2, noise: createNoise(3), sd: 1e-5 },
  ),
);
const effects = patch.ok
  ? patchEffects(
      {
        car: { ...EXAMPLE_CAR, cgHeight: null },
        mass: kilogram(EXAMPLE_CAR_MASS.mass),
        frontShare: EXAMPLE_CAR_MASS.frontShare,
        cgLeft: metre(EXAMPLE_CAR_MASS.cgLeft),
        gravity: metrePerSecond2(9.80665),
      },
      patch.heights,
    )
  : null;
const said = (change: Partial<PatchSeen>): string => {
  const { tone, text } = flatPatchAnswer({
    patch,
    effects,
    verdict: null,
    moved: null,
    massUnit: 'kg',
    labels: 'LF RF LR RR',
    ...change,
  });
  return `${tone}: ${text.replaceAll('\u00a0', ' ')}`;
};

test('no survey: not known, and what to do', () => {
  expect(said({ patch: null, effects: null })).toBe(
    'wait: Not known: survey the four pads with a laser and a staff.',
  );
});

test('a survey that gave no heights says why and what next', () => {
  const refusal = {
    ok: false,
    code: 'not connected',
    why: 'Two set-ups share no point.',
    next: 'Read one point from both.',
    findings: [],
  } as const;
  expect(said({ patch: refusal, effects: null })).toBe(
    'wait: Two set-ups share no point. Read one point from both.',
  );
});

test('not good: by how much, and where to turn', () => {
  expect(said({ verdict: 'not good enough' })).toMatch(
    /^alarm: No\. Twist (0\.99|1\.0[01]) mm ±\S+: 4\.[34]\d kg on the worst corner, 0\.6\d % cross\. Turn the screws in the list\.$/u,
  );
});

test('cannot tell: more sights would', () => {
  expect(said({ verdict: 'cannot tell' })).toMatch(/^wait: Cannot tell yet\. .* More sights/u);
});

test('without a car only the twist is said; with one and no verdict its effect is', () => {
  expect(said({ effects: null })).toMatch(/^calm: Twist \S+ mm ±\S+\.$/u);
  expect(said({})).toMatch(/^calm: Twist .* cross\.$/u);
});

test('a patch that moved goes before everything: which pad, which way', () => {
  const moved = {
    answer: 'moved',
    tail: 0.001,
    changes: [],
    twist: { value: -0.001, u: 1e-5, dof: 20 },
    likeliest: { pad: 'LR', change: { value: -0.001, u: 1e-5, dof: 20 } },
    others: ['RF'],
  } as const;
  expect(said({ verdict: 'good enough', moved })).toBe(
    'alarm: The patch has moved. LR or RF sank by 1.00 mm: level it again and weigh again.',
  );
  expect(said({ moved: { ...moved, likeliest: null, others: [] } })).toBe(
    'alarm: The patch has moved. More than one pad went. Level it again and weigh again.',
  );
  expect(said({ moved: { ...moved, answer: 'cannot tell', likeliest: null } })).toMatch(
    /^wait: Whether the patch has moved these sights cannot tell\./u,
  );
});
