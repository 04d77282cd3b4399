import { expect, test } from 'vitest';
import { ewmaChart } from '../../../core/season/ewmaChart.ts';
import { individualsLimits } from '../../../core/season/individualsChart.ts';

test('moving range of single values (NIST/SEMATECH e-Handbook 6.3.2.2)', () => {
  const limits = individualsLimits([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]);
  // The handbook takes d₂ as 1.128, we as 1.128379.
  expect(limits?.centre).toBeCloseTo(50.81, 2);
  expect(limits?.upper).toBeCloseTo(55.8041, 2);
  expect(limits?.lower).toBeCloseTo(45.8159, 2);
  expect(individualsLimits([1])).toBeNull();
});

test('exponentially weighted average (NIST/SEMATECH e-Handbook 6.3.2.4)', () => {
  const values = [
    52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2,
    52.6, 52.4, 53.6, 52.1,
  ];
  const published = [
    50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05,
    49.38, 49.92, 50.73, 51.23, 51.94, 51.99,
  ];
  const options = { target: 50, sigma: 2.0539, weight: 0.3, width: 3 };
  const chart = ewmaChart(values, options);
  expect(chart.averages.map((each) => Number(each.toFixed(2)))).toEqual(published);
  expect(chart.limits.upper).toBeCloseTo(52.5884, 3);
  expect(chart.limits.lower).toBeCloseTo(47.4116, 3);
  expect(chart.outside).toEqual([]);
  // A lasting shift of one standard deviation is found.
  const shifted = ewmaChart([...values, ...values.map((each) => each + 2.0539)], options);
  expect(shifted.outside.length).toBeGreaterThan(0);
  expect(() => ewmaChart(values, { ...options, weight: 0 })).toThrow(RangeError);
});
