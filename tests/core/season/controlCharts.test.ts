import { describe, expect, test } from 'vitest';
import { averagesChart } from '../../../core/season/averagesChart.ts';
import { controlConstants } from '../../../core/season/controlConstants.ts';
import { cusumChart } from '../../../core/season/cusumChart.ts';
import { ewmaChart } from '../../../core/season/ewmaChart.ts';
import { individualsChart } from '../../../core/season/individualsChart.ts';
import { unevenEwmaChart } from '../../../core/season/unevenEwmaChart.ts';
import { createNoise } from '../signal/noise.ts';

describe('constants', () => {
  test('the published table of factors for control charts', () => {
    // d2, d3, c4, A2, A3, D3, D4, B3, B4. Older tables print D4 of 3 and 5 as 2.575 and 2.115.
    const table = [
      [2, 1.128, 0.853, 0.7979, 1.88, 2.659, 0, 3.267, 0, 3.267],
      [3, 1.693, 0.888, 0.8862, 1.023, 1.954, 0, 2.575, 0, 2.568],
      [4, 2.059, 0.88, 0.9213, 0.729, 1.628, 0, 2.282, 0, 2.266],
      [5, 2.326, 0.864, 0.94, 0.577, 1.427, 0, 2.114, 0, 2.089],
      [10, 3.078, 0.797, 0.9727, 0.308, 0.975, 0.223, 1.777, 0.284, 1.716],
    ] as const;
    for (const [size, ...published] of table) {
      const found = controlConstants(size);
      const { d2, d3, c4, a2, a3, rangeLower, rangeUpper, sdLower, sdUpper } = found;
      const list = [d2, d3, c4, a2, a3, rangeLower, rangeUpper, sdLower, sdUpper];
      for (const [k, value] of published.entries())
        expect(Math.abs((list[k] as number) - value), `${size}: ${k}`).toBeLessThanOrEqual(0.00051);
    }
  });

  test('closed forms: subgroups of two and three', () => {
    // E R = 2/√π and E R² = 2 for two; E R = 3/√π for three (L. H. C. Tippett 1925).
    expect(controlConstants(2).d2).toBeCloseTo(2 / Math.sqrt(Math.PI), 12);
    expect(controlConstants(2).d3).toBeCloseTo(Math.sqrt(2 - 4 / Math.PI), 6);
    expect(controlConstants(3).d2).toBeCloseTo(3 / Math.sqrt(Math.PI), 12);
    expect(() => controlConstants(1)).toThrow(RangeError);
    expect(() => controlConstants(2.5)).toThrow(RangeError);
  });
});

test('single values and their steps (NIST/SEMATECH e-Handbook 6.3.2.2)', () => {
  const chart = individualsChart([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]);
  expect(chart?.rangeMean).toBeCloseTo(1.8778, 4);
  // The handbook divides by 1.128, we by 1.128379.
  expect(chart?.sigma).toBeCloseTo(1.8778 / 1.128, 2);
  // D4 = 3.267 of subgroups of two.
  expect(chart?.rangeUpper).toBeCloseTo(3.267 * 1.8778, 2);
});

test('means of subgroups: by range and by standard deviation, on one set computed by hand', () => {
  const groups = [
    [1, 2, 3],
    [2, 3, 4],
    [3, 4, 8],
  ];
  const byRange = averagesChart(groups, 'range');
  const bySd = averagesChart(groups, 'standard deviation');
  if (!byRange.ok || !bySd.ok) throw new Error('no chart');
  // Means 2, 3, 5; ranges 2, 2, 5; deviations 1, 1, √7. Factors of three: 1.023, 1.954, 2.575, 2.568.
  expect(byRange.chart.means).toEqual([2, 3, 5]);
  expect(byRange.chart.meanLimits.upper).toBeCloseTo(10 / 3 + 1.023 * 3, 2);
  expect(byRange.chart.scatterLimits.upper).toBeCloseTo(2.575 * 3, 2);
  const scatter = (2 + Math.sqrt(7)) / 3;
  expect(bySd.chart.meanLimits.lower).toBeCloseTo(10 / 3 - 1.954 * scatter, 2);
  expect(bySd.chart.scatterLimits.upper).toBeCloseTo(2.568 * scatter, 2);
  expect(averagesChart([[1, 2]], 'range')).toEqual({ ok: false, why: 'too few subgroups' });
  expect(
    averagesChart(
      [
        [1, 2],
        [1, 2, 3],
      ],
      'range',
    ),
  ).toEqual({ ok: false, why: 'unequal subgroups' });
});

test('cumulative sum (NIST/SEMATECH e-Handbook 6.3.2.3): table and first signal at the 14th', () => {
  const values = [
    324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625,
    325.15, 328.325, 327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35,
  ];
  const high = [
    0, 0, 0, 0, 0.03, 0, 0, 0, 0, 0, 0, 0, 3.01, 4.94, 7.45, 10.63, 11.99, 14.44, 16.0, 19.04,
  ];
  const low = [0, 0.01, 0, 0.33, 0, 0, 0.56, 0.72, 0.17, 0.25, 0.31, 0, 0, 0, 0, 0, 0, 0, 0, 0];
  const chart = cusumChart(values, { target: 325, slack: 0.3175, height: 4.1959 });
  // The table has two decimals, some of them cut and not rounded.
  for (const [i, each] of chart.high.entries())
    expect(Math.abs(each - (high[i] as number))).toBeLessThan(0.0101);
  for (const [i, each] of chart.low.entries())
    expect(Math.abs(each - (low[i] as number))).toBeLessThan(0.0101);
  expect(chart.firstSignal).toBe(13);
  // The level moved at the 13th value, seen in the data.
  expect(chart.shiftBegan).toBe(12);
  expect(
    cusumChart(values.slice(0, 12), { target: 325, slack: 0.3175, height: 4.1959 }),
  ).toMatchObject({ firstSignal: null, shiftBegan: null });
});

describe('weighted average at uneven times', () => {
  test('at even times it is the handbook’s (6.3.2.4), and its limits end at the handbook’s', () => {
    const values = [
      52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8,
      51.2, 52.6, 52.4, 53.6, 52.1,
    ];
    // A weight of 0.3 each day: a memory of −1/ln 0.7 days. The first weighs as after one memory,
    // so the day before it is given as a value on target.
    const memory = -86_400 / Math.log(0.7);
    const timed = [50, ...values].map((value, day) => ({ at: day * 86_400, value }));
    const options = { target: 50, sigma: 2.0539, memory, width: 3, mostWeight: 1 };
    const points = unevenEwmaChart(timed, options).slice(1);
    const plain = ewmaChart(values, { target: 50, sigma: 2.0539, weight: 0.3, width: 3 });
    for (const [i, point] of points.entries())
      expect(point.average).toBeCloseTo(plain.averages[i] as number, 9);
    expect(points.at(-1)?.limits.upper).toBeCloseTo(52.5884, 3);
    expect(points[0]?.limits.upper).toBeLessThan(53.5);
  });

  test('independent values leave the limits as often as the normal law says, whatever the gaps', () => {
    const noise = createNoise(31);
    let outside = 0;
    const series = 400;
    const length = 50;
    for (let run = 0; run < series; run += 1) {
      let at = 0;
      const values = Array.from({ length }, () => {
        at += -Math.log(1 - noise.uniform()) * 5 * 86_400;
        return { at, value: 7 + 2 * noise.normal() };
      });
      outside += unevenEwmaChart(values, {
        target: 7,
        sigma: 2,
        memory: 20 * 86_400,
        width: 1.959964,
        mostWeight: 0.4,
      }).filter((point) => point.outside).length;
    }
    // 5 % at each position; neighbours agree, so the band is wider than that of 20,000 free draws.
    expect(outside / (series * length)).toBeGreaterThan(0.042);
    expect(outside / (series * length)).toBeLessThan(0.058);
  });

  test('a winter does not make one value the whole average; wrong order is refused', () => {
    const options = { target: 0, sigma: 1, memory: 10, width: 3, mostWeight: 0.3 };
    const [, later] = unevenEwmaChart(
      [
        { at: 0, value: 0 },
        { at: 1e7, value: 4 },
      ],
      options,
    );
    expect(later?.average).toBeCloseTo(1.2, 12);
    expect(() =>
      unevenEwmaChart(
        [
          { at: 1, value: 0 },
          { at: 0, value: 0 },
        ],
        options,
      ),
    ).toThrow(RangeError);
  });
});
