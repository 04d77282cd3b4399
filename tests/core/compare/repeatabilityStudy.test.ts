import { describe, expect, test } from 'vitest';
import type { FourNumbers, Lowering } from '../../../core/compare/repeatabilityLowering.ts';
import { repeatabilityOneWay } from '../../../core/compare/repeatabilityOneWay.ts';
import { repeatabilityStudy } from '../../../core/compare/repeatabilityStudy.ts';
import { createNoise, type Noise } from '../signal/noise.ts';
import { HERON_PATTERN, lowerOnce, type Truth } from './lower.ts';

const TRUTH: Truth = { biases: {}, own: 0.05, warp: 0.3, laying: 0.6, person: 0.4 };
const PADS: Lowering['pads'] = ['A', 'B', 'C', 'D'];
const leftFront = (weights: FourNumbers): number => weights[0];
const total = (weights: FourNumbers): number => weights.reduce((sum, each) => sum + each, 0);

interface Design {
  readonly layings: number;
  readonly persons: number;
  readonly each: number;
}

const study = (noise: Noise, design: Design, truth: Truth = TRUTH): Lowering[] =>
  Array.from({ length: design.layings }, (_, laying) => {
    const relaid = truth.laying * noise.normal();
    return Array.from({ length: design.persons }, (_unused, person) => {
      const habit = truth.person * noise.normal();
      return Array.from({ length: design.each }, () =>
        lowerOnce(noise, truth, {
          pads: PADS,
          person: String(person),
          laying: String(laying),
          relaid: relaid + habit,
        }),
      );
    });
  }).flat(2);

describe('one person, patch relaid', () => {
  test('is the one-way analysis of the layings', () => {
    const lowerings = study(createNoise(111), { layings: 4, persons: 1, each: 5 });
    const outcome = repeatabilityStudy(lowerings, [leftFront, total]);
    if (!outcome.ok) throw new Error(outcome.why);
    const groups = Map.groupBy(lowerings, ({ laying }) => laying);
    for (const [index, quantity] of [leftFront, total].entries()) {
      const oneWay = repeatabilityOneWay(
        [...groups.values()].map((group) => group.map(({ weights }) => quantity(weights))),
      );
      const found = outcome.study.quantities[index];
      expect(found?.repeatability.sd).toBeCloseTo(oneWay?.repeatability.sd ?? NaN, 9);
      expect(found?.laying?.variance).toBeCloseTo(oneWay?.between.variance ?? NaN, 9);
      expect(found?.intermediate?.upper).toBeCloseTo(oneWay?.intermediate.upper ?? NaN, 6);
      expect(found?.person).toBeNull();
    }
    expect(outcome.study.notTold).toEqual(['what another person adds: let a second one lower']);
  });

  test('the warp moves corners and not the total', () => {
    const outcome = repeatabilityStudy(
      study(createNoise(112), { layings: 5, persons: 1, each: 6 }),
      [leftFront, total],
    );
    if (!outcome.ok) throw new Error(outcome.why);
    const [corner, sum] = outcome.study.quantities;
    expect(corner?.repeatability.sd ?? 0).toBeGreaterThan(0.2);
    // Four corners' own noise: 2 · 0.05, whatever the warp does.
    expect(sum?.repeatability.sd ?? 1).toBeLessThan(0.15);
    const { covariance } = outcome.study.scatter;
    // Left front and right front trade load.
    expect((covariance[1] as number) / (covariance[0] as number)).toBeLessThan(-0.8);
  });
});

test('two persons on each laying: components come out, intervals hold, 500 studies', () => {
  const noise = createNoise(113);
  const runs = 500;
  const truth = {
    repeatability: Math.hypot(TRUTH.own, TRUTH.warp),
    person: TRUTH.person,
    laying: TRUTH.laying,
    intermediate: Math.hypot(TRUTH.own, TRUTH.warp, TRUTH.person, TRUTH.laying),
  };
  const inside = { repeatability: 0, person: 0, laying: 0, intermediate: 0 };
  const mean = { repeatability: 0, person: 0, laying: 0, intermediate: 0 };
  for (let run = 0; run < runs; run += 1) {
    const outcome = repeatabilityStudy(study(noise, { layings: 6, persons: 2, each: 3 }), [
      leftFront,
    ]);
    if (!outcome.ok) throw new Error(outcome.why);
    const found = outcome.study.quantities[0];
    for (const name of ['repeatability', 'person', 'laying', 'intermediate'] as const) {
      const estimate = found?.[name];
      if (!estimate) throw new Error(`no ${name}`);
      mean[name] += estimate.variance / runs;
      if (estimate.lower <= truth[name] && truth[name] <= estimate.upper) inside[name] += 1;
    }
  }
  for (const name of ['repeatability', 'person', 'laying', 'intermediate'] as const) {
    expect(inside[name] / runs, name).toBeGreaterThan(0.92);
    expect(Math.abs(mean[name] / truth[name] ** 2 - 1), name).toBeLessThan(0.12);
  }
});

describe('what a study cannot tell', () => {
  test('pads moved between the layings: their biases are never taken for relaying', () => {
    const noise = createNoise(114);
    const truth = { ...TRUTH, biases: { A: 5 }, laying: 0, person: 0 };
    const places: Lowering['pads'][] = [PADS, ['B', 'A', 'D', 'C']];
    const lowerings = places.flatMap((pads, place) =>
      ['first', 'second'].flatMap((again) =>
        Array.from({ length: 6 }, () =>
          lowerOnce(noise, truth, { pads, person: 'x', laying: `${place} ${again}`, relaid: 0 }),
        ),
      ),
    );
    const outcome = repeatabilityStudy(lowerings, [leftFront]);
    if (!outcome.ok) throw new Error(outcome.why);
    expect(outcome.study.quantities[0]?.intermediate?.sd ?? 9).toBeLessThan(0.6);
    const once = repeatabilityStudy(
      lowerings.filter(({ laying }) => laying.endsWith('first')),
      [leftFront],
    );
    if (!once.ok) throw new Error(once.why);
    expect(once.study.quantities[0]).toMatchObject({ laying: null, intermediate: null });
    expect(once.study.notTold[0]).toContain('relaying the patch');
  });

  test('one person on each laying: person and patch are one', () => {
    const noise = createNoise(115);
    const lowerings = ['a', 'b'].flatMap((who) =>
      Array.from({ length: 3 }, () =>
        lowerOnce(noise, TRUTH, { pads: PADS, person: who, laying: who, relaid: 0 }),
      ),
    );
    const outcome = repeatabilityStudy(lowerings, [leftFront]);
    if (!outcome.ok) throw new Error(outcome.why);
    expect(outcome.study.notTold).toEqual(['person and patch apart: let both lower on one laying']);
    expect(outcome.study.quantities[0]?.person).toBeNull();
  });

  test('nothing lowered twice', () => {
    const noise = createNoise(116);
    const lowerings = study(noise, { layings: 3, persons: 1, each: 1 });
    expect(repeatabilityStudy(lowerings, [leftFront])).toEqual({
      ok: false,
      why: 'no lowering repeated',
    });
  });
});

test('the pattern in these tests has no sum and no roll moment, so it is a warp', () => {
  expect(HERON_PATTERN.reduce((sum, each) => sum + each, 0)).toBeCloseTo(0, 12);
  const [lf, rf, lr, rr] = HERON_PATTERN;
  expect((1.68 / 2) * (lf - rf) + (1.65 / 2) * (lr - rr)).toBeCloseTo(0, 12);
});
