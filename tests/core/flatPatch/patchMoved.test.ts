import { inv, multiply } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { flatPatchAnswer } from '../../../core/answers/flatPatchAnswer.ts';
import { perCorner, type PerCorner } from '../../../core/corners.ts';
import { levelPatch } from '../../../core/flatPatch/levelPatch.ts';
import { patchMoved, wentOtherWay } from '../../../core/flatPatch/patchMoved.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { fTail } from '../../../core/statistics/fDistribution.ts';
import { createNoise } from '../signal/noise.ts';
import { LEVEL_PADS, padPoints, readSurvey, type TruePad } from './simulatedPatch.ts';

const raised = (by: Partial<PerCorner<number>>): PerCorner<TruePad> =>
  perCorner((corner) => ({ ...LEVEL_PADS[corner], height: by[corner] ?? 0 }));
const BOLT = { id: 'bolt', pad: null, x: -1.35, y: 0 };
const read = (
  by: Partial<PerCorner<number>>,
  seed: number,
  { sd = 1e-4, marked = false, upsideDown = false } = {},
) => {
  const survey = readSurvey(raised(by), {
    // With the car on them the middles are under the wheels.
    points: [...padPoints(5).filter(({ id }) => !id.endsWith('1')), ...(marked ? [BOLT] : [])],
    repeats: 3,
    noise: createNoise(seed),
    sd,
    marks: { bolt: 0 },
  });
  const patch = levelPatch(EXAMPLE_CAR, {
    ...survey,
    sights: survey.sights.map((sight) => ({
      ...sight,
      reading: upsideDown ? 2.4 - (sight.reading ?? 0) : sight.reading,
    })),
  });
  if (!patch.ok) throw new Error(patch.why);
  return patch;
};
const heights = (...of: Parameters<typeof read>) => read(...of).heights;

describe('a patch read again', () => {
  test('one that lies still is called moved in about 5 of 100', () => {
    let moved = 0;
    const runs = 400;
    for (let seed = 1; seed <= runs; seed += 1)
      if (patchMoved(heights({}, seed), heights({}, 5000 + seed)).answer === 'moved') moved += 1;
    // Binomial: 400 of 5 % is 20 ± 4.4.
    expect(moved).toBeGreaterThan(6);
    expect(moved).toBeLessThan(34);
  });

  test('the test is Hotelling’s with the covariance of both, by mathjs', () => {
    const [a, b] = [heights({}, 3), heights({ RF: -3e-4 }, 4)];
    const d = [0, 1, 2].map((k) => b.values[k]! - b.values[3]! - a.values[k]! + a.values[3]!);
    const from = (h: typeof a, i: number, j: number): number =>
      h.scattered[i]![j]! - h.scattered[i]![3]! - h.scattered[3]![j]! + h.scattered[3]![3]!;
    const V = [0, 1, 2].map((i) => [0, 1, 2].map((j) => from(a, i, j) + from(b, i, j)));
    const f = Number(multiply(multiply(d, inv(V)), d)) / 3;
    expect(patchMoved(a, b).tail).toBeCloseTo(fTail(f, 3, Math.min(a.dof, b.dof)), 9);
  });

  test('a pad that sank is named with its size', () => {
    const found = patchMoved(heights({}, 1), heights({ LR: -6e-4 }, 2));
    expect(found).toMatchObject({ answer: 'moved', likeliest: { pad: 'LR' }, others: [] });
    const { value, u } = found.likeliest!.change;
    expect(Math.abs(value + 6e-4)).toBeLessThan(3 * u);
  });

  test('two pads that sank are no single pad', () => {
    const found = patchMoved(heights({}, 1), heights({ LF: -6e-4, LR: -9e-4 }, 2));
    expect(found).toMatchObject({ answer: 'moved', likeliest: null });
  });

  test('all four sinking alike shows against a mark only', () => {
    const all = { LF: -1e-3, RF: -1e-3, LR: -1e-3, RR: -1e-3 };
    expect(patchMoved(heights({}, 1), heights(all, 2)).answer).not.toBe('moved');
    const marked = patchMoved(heights({}, 1, { marked: true }), heights(all, 2, { marked: true }));
    expect(marked).toMatchObject({ answer: 'moved', likeliest: null });
  });

  test('same needs sights that could show it', () => {
    expect(patchMoved(heights({}, 1, { sd: 3e-5 }), heights({}, 2, { sd: 3e-5 })).answer).toBe(
      'same',
    );
    expect(patchMoved(heights({}, 1, { sd: 3e-4 }), heights({}, 2, { sd: 3e-4 })).answer).toBe(
      'cannot tell',
    );
  });

  test('pads that went the other way than their screws', () => {
    const low = { RF: -0.004 };
    const before = read(low, 1, { upsideDown: true });
    // Upside down RF looks high, is let down, and is lower still.
    const planned = before.heights.values.map((z, k) => (k === 1 ? z - 0.004 : z));
    const after = heights({ RF: -0.008 }, 2, { upsideDown: true });
    expect(wentOtherWay(before.heights, planned, after)).toBe(true);
    const sound = read(low, 1);
    const up = sound.heights.values.map((z, k) => (k === 1 ? z + 0.004 : z));
    expect(wentOtherWay(sound.heights, up, heights({}, 2))).toBe(false);
    expect(wentOtherWay(sound.heights, sound.heights.values, heights(low, 2))).toBe(false);
  });
});

test('in words', () => {
  const patch = read({}, 1);
  const answer = (before: Parameters<typeof read>, after: Parameters<typeof read>) =>
    flatPatchAnswer({
      patch,
      effects: null,
      verdict: null,
      moved: patchMoved(heights(...before), heights(...after)),
      massUnit: 'kg',
      labels: 'FL FR RL RR',
    });
  expect(answer([{}, 1], [{ LR: -2e-3 }, 2])).toMatchObject({ tone: 'alarm' });
  expect(answer([{}, 1], [{ LR: -2e-3 }, 2]).text).toMatch(
    /RL sank by (1\.9|2\.0)\d\u00A0mm: level/,
  );
  expect(answer([{}, 1], [{ LF: -6e-4, LR: -9e-4 }, 2]).text).toMatch(/More than one pad went/);
  expect(answer([{}, 1, { sd: 3e-4 }], [{}, 2, { sd: 3e-4 }])).toMatchObject({
    about: 'cannot tell whether moved',
    tone: 'wait',
  });
});
