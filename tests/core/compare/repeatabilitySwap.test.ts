import { describe, expect, test } from 'vitest';
import type { Lowering } from '../../../core/compare/repeatabilityLowering.ts';
import { repeatabilitySwap } from '../../../core/compare/repeatabilitySwap.ts';
import { studentT } from '../../../core/signal/studentT.ts';
import { createNoise, type Noise } from '../signal/noise.ts';
import { HERON_PATTERN, HERON_WEIGHTS, lowerOnce, type Truth } from './lower.ts';

const TRUTH: Truth = {
  biases: { A: 0.6, B: -0.2, C: 0.1, D: -0.5 },
  own: 0.03,
  warp: 0.2,
  laying: 0.5,
  person: 0,
};

type Pads = Lowering['pads'];
const STRAIGHT: Pads = ['A', 'B', 'C', 'D'];
const SIDES: Pads = ['B', 'A', 'D', 'C'];
const ENDS: Pads = ['C', 'D', 'A', 'B'];

const study = (noise: Noise, places: readonly Pads[], each: number, truth = TRUTH): Lowering[] =>
  places.flatMap((pads, laying) => {
    const relaid = truth.laying * noise.normal();
    return Array.from({ length: each }, () =>
      lowerOnce(noise, truth, { pads, person: 'crew chief', laying: String(laying), relaid }),
    );
  });

const swap = (lowerings: readonly Lowering[], pattern = HERON_PATTERN) => {
  const outcome = repeatabilitySwap(lowerings, pattern);
  if (!outcome.ok) throw new Error(outcome.why);
  return outcome.result;
};

describe('pads told from the car', () => {
  test('without noise the biases come out as put in, whatever the patch did', () => {
    const truth = { ...TRUTH, own: 1e-9, warp: 0.3 };
    const result = swap(study(createNoise(91), [STRAIGHT, SIDES, ENDS], 3, truth));
    expect(result.groups).toEqual([['A', 'B', 'C', 'D']]);
    for (const { pad, bias } of result.biases)
      expect(bias?.value).toBeCloseTo(truth.biases[pad] as number, 6);
    const pair = result.pairs.find(({ pads }) => pads.join('') === 'AD');
    expect(pair?.difference?.value).toBeCloseTo(1.1, 6);
  });

  test('the corners come out on the mean of the pads, their total exactly the car’s', () => {
    const truth = { ...TRUTH, own: 1e-9, warp: 1e-9, laying: 0 };
    const { corners } = swap(study(createNoise(92), [STRAIGHT, SIDES, ENDS], 2, truth));
    for (const [k, corner] of corners.entries())
      expect(corner?.value).toBeCloseTo(HERON_WEIGHTS[k] as number, 5);
  });

  test('95 % intervals of every pair hold the truth in 93 to 99 % of 600 studies', () => {
    const noise = createNoise(93);
    const runs = 600;
    const inside = new Map<string, number>();
    for (let run = 0; run < runs; run += 1) {
      const result = swap(study(noise, [STRAIGHT, SIDES, ENDS], 4));
      for (const { pads, difference } of result.pairs) {
        if (!difference) throw new Error('not estimable');
        const [a, b] = pads;
        const truth = (TRUTH.biases[a] ?? 0) - (TRUTH.biases[b] ?? 0);
        const holds =
          Math.abs(difference.value - truth) < studentT(0.05, difference.dof) * difference.u;
        inside.set(pads.join(''), (inside.get(pads.join('')) ?? 0) + (holds ? 1 : 0));
      }
    }
    expect(inside.size).toBe(6);
    for (const [pair, count] of inside) {
      expect(count / runs, pair).toBeGreaterThan(0.923);
      expect(count / runs, pair).toBeLessThan(0.99);
    }
  });

  test('a relaid patch that is left in the scatter breaks the intervals: why it is taken out', () => {
    const noise = createNoise(94);
    let inside = 0;
    for (let run = 0; run < 200; run += 1) {
      const outcome = repeatabilitySwap(study(noise, [STRAIGHT, SIDES, ENDS], 4), null);
      if (!outcome.ok) throw new Error(outcome.why);
      const pair = outcome.result.pairs.find(({ pads }) => pads.join('') === 'AB');
      const difference = pair?.difference;
      if (!difference) throw new Error('not estimable');
      if (Math.abs(difference.value - 0.8) < studentT(0.05, difference.dof) * difference.u)
        inside += 1;
    }
    expect(inside / 200).toBeLessThan(0.8);
  });
});

describe('what a swap cannot tell is said', () => {
  test('no swap: no pad is told from the car', () => {
    const result = swap(study(createNoise(95), [STRAIGHT], 5));
    expect(result.groups).toEqual([['A'], ['B'], ['C'], ['D']]);
    expect(result.pairs.every(({ difference }) => difference === null)).toBe(true);
    expect(result.biases.every(({ bias }) => bias === null)).toBe(true);
    // The car on the mean of the pads is not known either: each corner has its own pad in it.
    expect(result.corners).toEqual([null, null, null, null]);
    expect(result.notEstimable.at(-1)).toContain('A | B | C | D');
  });

  test('left and right swapped on an untouched patch: fronts and rears, but not front against rear', () => {
    const result = repeatabilitySwap(study(createNoise(96), [STRAIGHT, SIDES], 3), null);
    if (!result.ok) throw new Error(result.why);
    expect(result.result.groups).toEqual([
      ['A', 'B'],
      ['C', 'D'],
    ]);
  });

  test('one pair swapped while the patch moved: the other end shows how far it moved', () => {
    const front: Pads = ['B', 'A', 'C', 'D'];
    const result = swap(study(createNoise(97), [STRAIGHT, front], 4));
    expect(result.groups).toEqual([['A', 'B'], ['C'], ['D']]);
    const pair = result.pairs.find(({ pads }) => pads.join('') === 'AB')?.difference;
    expect(Math.abs((pair?.value ?? 0) - 0.8)).toBeLessThan(4 * (pair?.u ?? 0));
  });

  test('both ends swapped while the patch moved: only one combination is left of the two pairs', () => {
    // The unknown warp eats what tells A − B apart from C − D.
    const result = swap(study(createNoise(98), [STRAIGHT, SIDES], 4));
    expect(result.groups).toEqual([['A'], ['B'], ['C'], ['D']]);
  });

  test('always: the bias common to all pads, and zero apart from span', () => {
    const result = swap(study(createNoise(99), [STRAIGHT, SIDES, ENDS], 2));
    expect(result.notEstimable).toEqual([
      'a bias common to all pads: weigh a known mass',
      'zero and span of a pad apart: raise and read zero, or weigh another load',
    ]);
  });

  test('nothing repeated, and one pad under two corners', () => {
    expect(repeatabilitySwap(study(createNoise(1), [STRAIGHT, SIDES], 1), null)).toEqual({
      ok: false,
      why: 'no lowering repeated',
    });
    const twice = study(createNoise(1), [['A', 'A', 'C', 'D']], 2);
    expect(repeatabilitySwap(twice, null)).toEqual({ ok: false, why: 'a pad under two corners' });
  });
});

test('a model that does not fit is seen: a pad that changed between the layings', () => {
  const noise = createNoise(100);
  const good = study(noise, [STRAIGHT, SIDES, ENDS], 5);
  const wrong = good.map((each) =>
    each.laying === '2' && each.pads[0] === 'C'
      ? { ...each, weights: [each.weights[0] + 1, ...each.weights.slice(1)] as never }
      : each,
  );
  const fits = swap(good).worstResidual;
  const fails = swap(wrong).worstResidual;
  expect(fits ?? 0).toBeLessThan(4);
  expect(fails ?? 0).toBeGreaterThan(8);
});
