import { describe, expect, test } from 'vitest';
import { studentT } from '../../../core/signal/studentT.ts';
import { budget, type BudgetTerm, type TermName } from '../../../core/uncertainty/budget.ts';
import {
  dofOfJudgement,
  fromExpanded,
  fromHalfWidth,
  fromResolution,
} from '../../../core/uncertainty/standardUncertainty.ts';
import { createNoise } from '../signal/noise.ts';

const line = (name: TermName, u: number | null, dof: number, sensitivity = 1): BudgetTerm => ({
  name,
  kind: 'A',
  distribution: 't',
  u,
  dof,
  sensitivity,
  source: 'test',
});

describe('standard uncertainties of what is only bounded or certified', () => {
  test('JCGM 100:2008: 4.3.7 and 4.3.9, F.2.2.1, 4.3.3, G.4.2', () => {
    // 4.4.5: rectangular within ±4 °C has u = 2.3 °C; 4.4.6: triangular 1.6 °C.
    expect(fromHalfWidth(4, 'rectangular')).toBeCloseTo(2.3, 1);
    expect(fromHalfWidth(4, 'triangular')).toBeCloseTo(1.6, 1);
    // H.1.3.4: arcsine of half width 0.5 °C has 0.35 °C.
    expect(fromHalfWidth(0.5, 'arcsine')).toBeCloseTo(0.35, 2);
    // F.2.2.1: u = 0.29·δx.
    expect(fromResolution(1)).toBeCloseTo(0.29, 2);
    // 4.3.3, example: 240 µg at three standard deviations is 80 µg.
    expect(fromExpanded(240, 3)).toBe(80);
    // G.4.2, example: a judgement reliable to 25 % has eight degrees of freedom.
    expect(dofOfJudgement(0.25)).toBe(8);
    expect(dofOfJudgement(0)).toBe(Infinity);
    expect(() => fromHalfWidth(-1, 'arcsine')).toThrow(RangeError);
    expect(() => fromExpanded(1, 0)).toThrow(RangeError);
  });
});

describe('worked examples', () => {
  test('JCGM 100:2008, H.1: sensitivities of the end gauge', () => {
    // Inputs in their own units: l_s and d in nm, δα in 1/°C, δθ in °C; sensitivities of H.1.3.
    const length = 0.05e9;
    const found = budget([
      line('referenceMasses', 25, 18),
      line('reading', Math.hypot(5.8, 3.9, 6.7), 25.4472507774),
      line('calibration', 0.58e-6, 50, -length * 0.1),
      line('temperature', 0.029, 2, -length * 11.5e-6),
    ]);
    // GTC, examples/GUM_H1.py; the GUM prints 32 nm, 16.7 and U99 = 93 nm.
    expect(found.lines[1]?.contribution).toBeCloseTo(9.68194195397, 1);
    expect(found.lines[2]?.contribution).toBeCloseTo(2.88679, 1);
    expect(found.lines[3]?.contribution).toBeCloseTo(16.599, 0);
    expect(found.u).toBeCloseTo(31.66, 1);
    expect(found.dof).toBeCloseTo(16.75, 0);
    expect(studentT(0.01, found.dof) * found.u).toBeCloseTo(92.5, 0);
    expect(found.complete).toBe(true);
  });

  test('a pad of 500 kg at 300 kg after EURAMET cg-18 (recomputed, not published)', () => {
    const found = budget([
      line('repeatability', 0.06, 9),
      line('resolution', fromResolution(0.1), Infinity, Math.SQRT2),
      line('offCentreLoad', fromHalfWidth(0.15 / 2 / 150, 'rectangular'), Infinity, 300),
      line('referenceMasses', 0.015 / Math.sqrt(3), Infinity),
      line('calibration', 0.015 / (4 * Math.sqrt(3)), Infinity),
      line('spanDrift', 0.015 / (3 * Math.sqrt(3)), Infinity),
    ]);
    expect(found.u).toBeCloseTo(0.113378514, 8);
    // ν = u⁴·(n − 1)/s⁴.
    expect(found.dof).toBeCloseTo(114.752, 2);
    expect(found.lines.reduce((sum, { share }) => sum + (share ?? 0), 0)).toBeCloseTo(1, 12);
  });

  test('GUM H.3.6: an offset common to all readings adds to the intercept and not to the slope', () => {
    const found = budget([
      line('repeatability', 0.0028776, 9),
      line('calibration', 0.005, Infinity),
    ]);
    expect(found.u).toBeCloseTo(0.00576893138, 6);
    expect(found.dof).toBeCloseTo(145.3796, 1);
  });
});

test('unknown is said and not zero; what cannot reach the result is not called unknown', () => {
  const found = budget([
    line('zero', 3, 10),
    line('wind', null, Infinity),
    line('patchTwist', null, Infinity, 0),
  ]);
  expect(found).toMatchObject({ u: 3, unknown: ['wind'], complete: false });
  expect(found.lines.map(({ share }) => share)).toEqual([1, null, 0]);
  expect(found.lines[1]?.contribution).toBeNull();
  expect(() => budget([line('zero', 1, 1, NaN)])).toThrow(RangeError);
  expect(() => budget([line('zero', -1, 1)])).toThrow(RangeError);
});

test('95 % intervals hold the truth in 93 to 98 % of 4,000 budgets of three parts', () => {
  const noise = createNoise(121);
  const runs = 4000;
  let inside = 0;
  /** Mean of n readings and its standard uncertainty. */
  const mean = (sigma: number, n: number) => {
    const values = Array.from({ length: n }, () => sigma * noise.normal());
    const average = values.reduce((sum, each) => sum + each, 0) / n;
    const squares = values.reduce((sum, each) => sum + (each - average) ** 2, 0);
    return { average, u: Math.sqrt(squares / (n - 1) / n) };
  };
  for (let run = 0; run < runs; run += 1) {
    const a = mean(1, 5);
    const b = mean(2, 10);
    const half = 0.8;
    const c = half * (2 * noise.uniform() - 1);
    const found = budget([
      line('repeatability', a.u, 4, 2),
      line('zero', b.u, 9),
      line('wind', fromHalfWidth(half, 'rectangular'), Infinity),
    ]);
    if (Math.abs(2 * a.average + b.average + c) < found.expanded) inside += 1;
  }
  expect(inside / runs).toBeGreaterThan(0.93);
  expect(inside / runs).toBeLessThan(0.98);
});
