import { describe, expect, test } from 'vitest';
import {
  CHART_RULES,
  chartSignals,
  ZONE_RULES,
  type ChartRule,
} from '../../../core/season/chartRules.ts';
import { createNoise } from '../signal/noise.ts';

const timed = (values: readonly number[], gapAfter = -1) =>
  values.map((value, i) => ({ at: i + (gapAfter >= 0 && i > gapAfter ? 1000 : 0), value }));
const rules = Object.keys(CHART_RULES) as ChartRule[];
const found = (values: readonly number[], rule: ChartRule, gapAfter = -1) =>
  chartSignals(timed(values, gapAfter), { centre: 0, sigma: 1, rules: [rule], longestGap: 100 });

describe('each rule at its edge', () => {
  test('one beyond three sigma, either side', () => {
    expect(found([0, 3, -3.01], 'beyondThree')).toEqual([
      { rule: 'beyondThree', from: 2, to: 2, side: 'below' },
    ]);
  });

  test('two of three beyond two sigma on one side', () => {
    expect(found([2.1, 0, 2.1], 'twoOfThree')).toEqual([
      { rule: 'twoOfThree', from: 0, to: 2, side: 'above' },
    ]);
    expect(found([2.1, 0, 0, 2.1], 'twoOfThree')).toEqual([]);
    expect(found([2.1, -2.1], 'twoOfThree')).toEqual([]);
    expect(found([2.1, 2.1, 0], 'twoOfThree').map(({ to }) => to)).toEqual([1]);
  });

  test('four of five beyond one sigma', () => {
    expect(found([-1.1, -1.1, 0.5, -1.1, -1.1], 'fourOfFive')).toEqual([
      { rule: 'fourOfFive', from: 0, to: 4, side: 'below' },
    ]);
    expect(found([-1.1, -1.1, 0.5, 0.5, -1.1, -1.1], 'fourOfFive')).toEqual([]);
  });

  test('eight on one side', () => {
    const eight = [0.1, 0.2, 0.1, 0.3, 0.1, 0.2, 0.1, 0.1];
    expect(found(eight, 'eightOnOneSide')).toEqual([
      { rule: 'eightOnOneSide', from: 0, to: 7, side: 'above' },
    ]);
    expect(found(eight.slice(1), 'eightOnOneSide')).toEqual([]);
  });

  test('six rising; equal neighbours do not rise', () => {
    expect(found([-3, -2, -1, 0, 1, 2], 'sixOneWay')).toEqual([
      { rule: 'sixOneWay', from: 0, to: 5, side: 'above' },
    ]);
    expect(found([2, 1, 0, -1, -2, -3], 'sixOneWay')[0]?.side).toBe('below');
    expect(found([-3, -2, -1, -1, 1, 2], 'sixOneWay')).toEqual([]);
  });

  test('fourteen alternating, and fifteen within one sigma', () => {
    const turns = Array.from({ length: 14 }, (_, i) => (i % 2 === 0 ? 1 : -1) * (1 + i / 100));
    expect(found(turns, 'fourteenAlternating')).toEqual([
      { rule: 'fourteenAlternating', from: 0, to: 13, side: 'both' },
    ]);
    expect(found(turns.slice(1), 'fourteenAlternating')).toEqual([]);
    const near = Array.from({ length: 15 }, (_, i) => ((i * 7) % 10) / 11 - 0.4);
    expect(found(near, 'fifteenWithinOne')).toEqual([
      { rule: 'fifteenWithinOne', from: 0, to: 14, side: 'both' },
    ]);
    expect(found(near.slice(1), 'fifteenWithinOne')).toEqual([]);
    expect(found([...near.slice(0, 14), 1.2], 'fifteenWithinOne')).toEqual([]);
  });

  test('no pattern reaches over a long gap, and positions stay those of the whole series', () => {
    const eight = [0.1, 0.2, 0.1, 0.3, 0.1, 0.2, 0.1, 0.1];
    expect(found(eight, 'eightOnOneSide', 3)).toEqual([]);
    expect(found([-1, ...eight], 'eightOnOneSide', 0)[0]).toMatchObject({ from: 1, to: 8 });
  });

  test('no rules without scatter', () => {
    expect(() => chartSignals([], { centre: 0, sigma: 0, rules, longestGap: 1 })).toThrow(
      RangeError,
    );
  });

  test('property: turned over, every signal is the same on the other side', () => {
    const noise = createNoise(5);
    const values = Array.from({ length: 3000 }, () => 1.3 * noise.normal());
    const options = { centre: 0, sigma: 1, rules, longestGap: Infinity };
    const up = chartSignals(timed(values), options);
    const down = chartSignals(timed(values.map((value) => -value)), options);
    const turned = { above: 'below', below: 'above', both: 'both' } as const;
    expect(down).toEqual(up.map((signal) => ({ ...signal, side: turned[signal.side] })));
    expect(new Set(up.map(({ rule }) => rule)).size).toBeGreaterThan(4);
  });
});

describe('average run lengths in control', () => {
  /** Mean number of normal values up to the first signal; a signal begins the chart anew. */
  const runLength = (list: readonly ChartRule[], wanted: number, seed: number): number => {
    const noise = createNoise(seed);
    let values = 0;
    let signals = 0;
    while (signals < wanted) {
      const batch = timed(Array.from({ length: 3000 }, () => noise.normal()));
      const [first] = chartSignals(batch, {
        centre: 0,
        sigma: 1,
        rules: list,
        longestGap: Infinity,
      });
      if (!first) values += batch.length;
      else {
        values += first.to + 1;
        signals += 1;
      }
    }
    return values / signals;
  };

  test('three sigma alone 370.4; the four zone tests 91.75 (C. W. Champ and W. H. Woodall, 1987)', () => {
    // Technometrics 29 (1987) 393, table 1. A mean of n run lengths scatters by 1/√n of itself.
    const alone = runLength(['beyondThree'], 600, 11);
    expect(Math.abs(alone / 370.4 - 1)).toBeLessThan(3 / Math.sqrt(600));
    const zones = runLength(ZONE_RULES, 1200, 12);
    expect(Math.abs(zones / 91.75 - 1)).toBeLessThan(3 / Math.sqrt(1200));
  });
});
