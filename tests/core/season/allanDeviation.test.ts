import { describe, expect, test } from 'vitest';
import { allanCurve, allanDeviation } from '../../../core/season/allanDeviation.ts';
import { createNoise } from '../signal/noise.ts';

describe('check sets of NBS Monograph 140 and NIST SP 1065 (in aewallin/allantools)', () => {
  test('nine values', () => {
    const values = [892, 809, 823, 798, 671, 644, 883, 903, 677];
    expect(allanDeviation(values, 1, 'plain')?.deviation).toBeCloseTo(91.22945, 5);
    expect(allanDeviation(values, 2, 'plain')?.deviation).toBeCloseTo(115.8082, 4);
    expect(allanDeviation(values, 1)?.deviation).toBeCloseTo(91.22945, 5);
    expect(allanDeviation(values, 2)?.deviation).toBeCloseTo(85.95287, 5);
  });

  test('thousand values of the prescribed generator', () => {
    let n = 1234567890;
    const values = Array.from({ length: 1000 }, () => {
      const value = n / 2147483647;
      n = (16807 * n) % 2147483647;
      return value;
    });
    const published = [
      ['plain', 1, 2.922319e-1],
      ['plain', 10, 9.965736e-2],
      ['plain', 100, 3.897804e-2],
      ['overlapping', 1, 2.922319e-1],
      ['overlapping', 10, 9.159953e-2],
      ['overlapping', 100, 3.241343e-2],
    ] as const;
    for (const [kind, averaged, value] of published)
      expect(allanDeviation(values, averaged, kind)?.deviation).toBeCloseTo(value, 7);
  });
});

test('a level and a ramp: the level vanishes, a ramp of r each step gives r·m/√2', () => {
  const values = Array.from({ length: 200 }, (_, i) => 1e9 + 0.25 * i);
  expect(allanDeviation(values, 8)?.deviation).toBeCloseTo((0.25 * 8) / Math.SQRT2, 9);
});

test('a hole is not bridged, and one hole costs only what touches it', () => {
  const noise = createNoise(3);
  const values: (number | null)[] = Array.from({ length: 40 }, () => noise.normal());
  const halves = [values.slice(0, 20), values.slice(21)];
  values[20] = null;
  const whole = allanDeviation(values, 3);
  const parts = halves.map((half) => allanDeviation(half, 3));
  const squares = parts.reduce(
    (sum, p) => sum + (p?.differences ?? 0) * (p?.deviation ?? 0) ** 2,
    0,
  );
  const count = parts.reduce((sum, p) => sum + (p?.differences ?? 0), 0);
  expect(whole?.differences).toBe(count);
  expect(whole?.deviation).toBeCloseTo(Math.sqrt(squares / count), 12);
  expect(allanDeviation([1, null, 2, null], 1)).toBeNull();
  expect(() => allanDeviation([1, 2], 0)).toThrow(RangeError);
});

test('the curve of white noise with drift turns up where the two are equal', () => {
  const noise = createNoise(8);
  const values = Array.from({ length: 4096 }, (_, i) => noise.normal() + 0.002 * i);
  const curve = allanCurve(values);
  const best = curve.reduce((a, b) => (b.deviation < a.deviation ? b : a));
  // σ²(m) = 1/m + (0.002·m)²/2 has its least at m = (1/0.002²)^⅓ = 63.
  expect([32, 64, 128]).toContain(best.averaged);
  expect(curve[0]?.deviation).toBeCloseTo(1, 1);
});
