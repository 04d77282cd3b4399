import { expect, test } from 'vitest';
import { changeScatter } from '../../../core/compare/changeNoise.ts';
import { withDerived } from '../../../core/compare/derivedScatter.ts';
import { holm } from '../../../core/compare/holm.ts';
import { independentItems } from '../../../core/compare/independentItems.ts';

test.each([
  // The example in the manual of pingouin.holm.
  [
    [0.5, 0.003, 0.32, 0.054, 0.0003],
    [0.64, 0.012, 0.64, 0.162, 0.0015],
  ],
  // p.adjust(c(0.01, 0.04, 0.03, 0.005), "holm") by hand: 4·0.005, 3·0.01, 2·0.03, 1·0.04 not below it.
  [
    [0.01, 0.04, 0.03, 0.005],
    [0.03, 0.06, 0.06, 0.02],
  ],
  [[0.4], [0.4]],
  [[], []],
])('Holm of %j', (tails, wanted) => {
  const found = holm(tails);
  expect(found).toHaveLength(wanted.length);
  found.forEach((tail, index) => expect(tail).toBeCloseTo(wanted[index] as number, 12));
});

test('a total of others adds nothing to the family', () => {
  // Two items and their sum: variances 1, 4, 5.
  const covariance = [
    [1, 0, 1],
    [0, 4, 4],
    [1, 4, 5],
  ];
  const { kept, whiten } = independentItems(covariance);
  expect(kept).toEqual([0, 1]);
  expect(whiten([3, 4, 7])).toEqual([3, 2]);
});

test('whitened items have the squares xᵀ·V⁻¹·x', () => {
  // V = [[4, 2], [2, 3]], its inverse [[3, −2], [−2, 4]]/8; x = (2, 1): (12 − 8 + 4)/8 = 1.
  const whitened = independentItems([
    [4, 2],
    [2, 3],
  ]).whiten([2, 1]);
  expect(whitened.reduce((sum, each) => sum + each * each, 0)).toBeCloseTo(1, 12);
});

test('an item without variance stands for nothing', () => {
  expect(
    independentItems([
      [0, 0],
      [0, 1],
    ]).kept,
  ).toEqual([1]);
});

const noise = {
  repeat: {
    covariance: [
      [0.04, 0.01],
      [0.01, 0.09],
    ],
    dof: [8, 8],
  },
  laying: null,
  unshared: null,
  readings: [
    { before: 1, after: 2 },
    { before: 4, after: 2 },
  ],
};

test('u² = s²(1/n₁ + 1/n₂) + u_B², lowerings in common shared', () => {
  const { covariance, dof } = changeScatter(noise);
  expect(covariance[0]?.[0]).toBeCloseTo(0.04 * 1.5, 12);
  expect(covariance[1]?.[1]).toBeCloseTo(0.09 * 0.75, 12);
  // Mean of 1 against mean of 4, the one among the four: 1/4; 2 and 2 the same: 1/2.
  expect(covariance[0]?.[1]).toBeCloseTo(0.01 * 0.75, 12);
  expect(dof).toEqual([8, 8]);
});

test('a patch relaid is there once for each record, however often it was read', () => {
  const relaid = {
    ...noise,
    laying: {
      covariance: [
        [0.05, 0],
        [0, 0],
      ],
      dof: [4, 4],
    },
  };
  const { covariance, dof } = changeScatter(relaid);
  expect(covariance[0]?.[0]).toBeCloseTo(0.04 * 1.5 + 0.1, 12);
  // Welch–Satterthwaite: 0.16²/(0.06²/8 + 0.1²/4) = 8.677966.
  expect(dof[0]).toBeCloseTo(8.677966, 6);
  expect(changeScatter(relaid, 1000).covariance[0]?.[0]).toBeCloseTo(0.04 * 1.001 + 0.1, 12);
  // Single readings: twice the variance of intermediate precision.
  const single = { ...relaid, readings: noise.readings.map(() => ({ before: 1, after: 1 })) };
  expect(changeScatter(single).covariance[0]?.[0]).toBeCloseTo(2 * (0.04 + 0.05), 12);
});

test('type B of the change, with the normalised error of two readings', () => {
  // 312.4 ± 0.5 against 313.3 ± 0.6 with k = 2: E_n = 1.15233 is d/u of half that.
  const u = Math.hypot(0.25, 0.3);
  const { covariance, dof } = changeScatter({
    repeat: { covariance: [[0]], dof: [5] },
    laying: null,
    unshared: [[u * u]],
    readings: [{ before: 1, after: 1 }],
  });
  expect((313.3 - 312.4) / (2 * Math.sqrt(covariance[0]?.[0] as number))).toBeCloseTo(1.15233, 5);
  expect(dof).toEqual([Infinity]);
});

test('a sum and a difference share what they are made of', () => {
  const base = { covariance: noise.repeat.covariance, dof: [8, 8] };
  const { covariance, dof } = withDerived(base, [
    [1, 1],
    [1, -1],
  ]);
  expect(covariance[2]?.[2]).toBeCloseTo(0.04 + 0.09 + 0.02, 12);
  expect(covariance[3]?.[3]).toBeCloseTo(0.04 + 0.09 - 0.02, 12);
  expect(covariance[2]?.[3]).toBeCloseTo(0.04 - 0.09, 12);
  expect(covariance[3]?.[0]).toBeCloseTo(0.04 - 0.01, 12);
  // 0.15²/(0.04²/8 + 0.09²/8), and 0.11² over the same is below the least and kept at it.
  expect(dof[2]).toBeCloseTo(16, 12);
  expect(dof[3]).toBeCloseTo(Math.max(8, (0.11 ** 2 * 8) / (0.04 ** 2 + 0.09 ** 2)), 12);
});
