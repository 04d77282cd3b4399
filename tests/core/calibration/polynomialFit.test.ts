import { describe, expect, test } from 'vitest';
import { inverseUse } from '../../../core/calibration/inverseUse.ts';
import { lackOfFit } from '../../../core/calibration/lackOfFit.ts';
import {
  fittedAt,
  polynomialFit,
  type Observation,
  type PolynomialFit,
} from '../../../core/calibration/polynomialFit.ts';
import { studentT } from '../../../core/signal/studentT.ts';

/** The fit behind a calibration, on certified and published data; each source beside its numbers. */

const fitOf = (
  observations: readonly Observation[],
  model: Parameters<typeof polynomialFit>[1],
): PolynomialFit => {
  const outcome = polynomialFit(observations, model);
  if (!outcome.ok) throw new Error(outcome.why);
  return outcome.fit;
};

const sdOf = (fit: PolynomialFit): readonly number[] =>
  fit.covariance.map((row, index) => Math.sqrt(row[index] ?? Number.NaN));

/** Digits that agree, as NIST counts them: −log₁₀ of the relative error. */
const digits = (found: number | undefined, certified: number): number =>
  -Math.log10(Math.max(Math.abs(((found ?? Number.NaN) - certified) / certified), 1e-16));

const expectDigits = (
  found: readonly number[],
  certified: readonly number[],
  least: number,
): void => {
  expect(found).toHaveLength(certified.length);
  for (const [index, value] of certified.entries())
    expect(digits(found[index], value)).toBeGreaterThanOrEqual(least);
};

/** NIST StRD, Pontius.dat: load-cell calibration, 20 loads, each applied twice. */
const PONTIUS_LOADS = Array.from({ length: 20 }, (_, index) => 150_000 * (index + 1));
const PONTIUS_RUNS = [
  [
    0.11019, 0.21956, 0.32949, 0.43899, 0.54803, 0.65694, 0.76562, 0.87487, 0.98292, 1.09146,
    1.20001, 1.30822, 1.41599, 1.52399, 1.63194, 1.73947, 1.84646, 1.95392, 2.06128, 2.16844,
  ],
  [
    0.11052, 0.22018, 0.32939, 0.43886, 0.54798, 0.65739, 0.76596, 0.87474, 0.983, 1.0915, 1.20004,
    1.30818, 1.41613, 1.52408, 1.63159, 1.73965, 1.84696, 1.95445, 2.06177, 2.16829,
  ],
];
const PONTIUS: readonly Observation[] = PONTIUS_RUNS.flatMap((run) =>
  run.map((y, index) => ({ x: PONTIUS_LOADS[index] as number, y })),
);

describe('Pontius, a quadratic (NIST StRD, certified)', () => {
  const fit = fitOf(PONTIUS, { degree: 2 });

  test('coefficients to nine digits, standard deviations to eight', () => {
    expectDigits(
      fit.coefficients,
      [0.673565789473684e-3, 0.732059160401003e-6, -0.316081871345029e-14],
      9,
    );
    expectDigits(sdOf(fit), [0.107938612033077e-3, 0.157817399981659e-9, 0.486652849992036e-16], 8);
    expect(digits(fit.residualSd, 0.205177424076185e-3)).toBeGreaterThanOrEqual(8);
    expect(fit.dof).toBe(37);
    expect(fit.rSquared).toBeCloseTo(0.999999900178537, 14);
  });

  test('a straight line is refused by its lack of fit, a quadratic is not (e-Handbook 4.6.1)', () => {
    const line = fitOf(PONTIUS, { degree: 1 });
    // pmd615.htm prints single precision; the digits beyond are recomputed from the same data.
    expect(line.residualSd).toBeCloseTo(0.002171272596, 10);
    expect(lackOfFit(PONTIUS, line)).toMatchObject({ dofLack: 18, dofPure: 20 });
    expect(lackOfFit(PONTIUS, line)?.f).toBeCloseTo(214.7469, 3);
    expect(lackOfFit(PONTIUS, line)?.pureErrorSd).toBeCloseTo(0.0002147265, 9);
    expect(lackOfFit(PONTIUS, fit)?.f).toBeCloseTo(0.8107239, 5);
  });

  test('used backwards: deflection 1.239722 is load 1 705 106 (e-Handbook 4.6.1.10)', () => {
    const load = inverseUse(fit, 1.239722, { start: 1.5e6 });
    expect(load?.value).toBeCloseTo(1_705_105.5688517, 3);
    // Recomputed from the certified coefficients: not an independent source.
    expect(load?.u).toBeCloseTo(292.27, 2);
    const half = studentT(0.05, 37) * (load?.u ?? Number.NaN);
    expect((load?.value ?? Number.NaN) - half).toBeCloseTo(1_704_513.37, 0);
    expect((load?.value ?? Number.NaN) + half).toBeCloseTo(1_705_697.76, 0);
  });
});

test('Norris, a straight line (NIST StRD, certified)', () => {
  const fit = fitOf(
    [
      { y: 0.1, x: 0.2 },
      { y: 338.8, x: 337.4 },
      { y: 118.1, x: 118.2 },
      { y: 888.0, x: 884.6 },
      { y: 9.2, x: 10.1 },
      { y: 228.1, x: 226.5 },
      { y: 668.5, x: 666.3 },
      { y: 998.5, x: 996.3 },
      { y: 449.1, x: 448.6 },
      { y: 778.9, x: 777.0 },
      { y: 559.2, x: 558.2 },
      { y: 0.3, x: 0.4 },
      { y: 0.1, x: 0.6 },
      { y: 778.1, x: 775.5 },
      { y: 668.8, x: 666.9 },
      { y: 339.3, x: 338.0 },
      { y: 448.9, x: 447.5 },
      { y: 10.8, x: 11.6 },
      { y: 557.7, x: 556.0 },
      { y: 228.3, x: 228.1 },
      { y: 998.0, x: 995.8 },
      { y: 888.8, x: 887.6 },
      { y: 119.6, x: 120.2 },
      { y: 0.3, x: 0.3 },
      { y: 0.6, x: 0.3 },
      { y: 557.6, x: 556.8 },
      { y: 339.3, x: 339.1 },
      { y: 888.0, x: 887.2 },
      { y: 998.5, x: 999.0 },
      { y: 778.9, x: 779.0 },
      { y: 10.2, x: 11.1 },
      { y: 117.6, x: 118.3 },
      { y: 228.9, x: 229.2 },
      { y: 668.4, x: 669.1 },
      { y: 449.2, x: 448.9 },
      { y: 0.2, x: 0.5 },
    ],
    { degree: 1 },
  );
  expectDigits(fit.coefficients, [-0.262323073774029, 1.00211681802045], 9);
  expectDigits(sdOf(fit), [0.232818234301152, 0.429796848199937e-3], 8);
  expect(digits(fit.residualSd, 0.884796396144373)).toBeGreaterThanOrEqual(8);
});

test('NoInt1, a line through zero (NIST StRD, certified)', () => {
  const observations = Array.from({ length: 11 }, (_, index) => ({
    x: 60 + index,
    y: 130 + index,
  }));
  const fit = fitOf(observations, { degree: 1, throughZero: true });
  expectDigits(fit.coefficients, [2.07438016528926], 9);
  expectDigits(sdOf(fit), [0.165289256198347e-1], 8);
  expect(fit.residualSd).toBeCloseTo(3.56753034006338, 12);
  expect(fit.rSquared).toBeCloseTo(0.999365492298663, 12);
});

test('a straight line with its prediction band (Natrella, NBS Handbook 91, section 5-4.1)', () => {
  const x = [30, ...Array.from({ length: 15 }, (_, index) => 100 * (index + 1))];
  const y = [
    4642, 4612, 4565, 4513, 4476, 4433, 4389, 4347, 4303, 4251, 4201, 4140, 4100, 4073, 4024, 3999,
  ];
  const fit = fitOf(
    x.map((each, index) => ({ x: each, y: y[index] as number })),
    { degree: 1 },
  );
  expect(fit.coefficients[1]).toBeCloseTo(-0.44985482, 8);
  expect(fit.coefficients[0]).toBeCloseTo(4654.9846, 4);
  expect(fit.covariance[1]?.[1]).toBeCloseTo(0.000025649045, 10);
  expect(fit.residualSd).toBeCloseTo(9.277617, 5);
  expect(fittedAt(fit, 1200).u ** 2).toBeCloseTo(10.53, 2);
  expect(fittedAt(fit, 750).u ** 2 + fit.residualSd ** 2).toBeCloseTo(91.45, 2);
});

test('a thermometer’s calibration (JCGM 100:2008, H.3)', () => {
  const readings = [
    [21.521, -0.171],
    [22.012, -0.169],
    [22.512, -0.166],
    [23.003, -0.159],
    [23.507, -0.164],
    [23.999, -0.165],
    [24.513, -0.156],
    [25.002, -0.157],
    [25.503, -0.159],
    [26.01, -0.161],
    [26.511, -0.16],
  ] as const;
  const fit = fitOf(
    readings.map(([t, b]) => ({ x: t - 20, y: b })),
    { degree: 1 },
  );
  expect(fit.coefficients[0]).toBeCloseTo(-0.1712, 4);
  expect(fit.coefficients[1]).toBeCloseTo(0.00218269773988729, 12);
  const [s0 = Number.NaN, s1 = Number.NaN] = sdOf(fit);
  expect([s0, s1].map((each) => each.toFixed(5))).toEqual(['0.00288', '0.00067']);
  expect((fit.covariance[0]?.[1] ?? Number.NaN) / (s0 * s1)).toBeCloseTo(-0.93, 3);
  expect(fittedAt(fit, 10).value).toBeCloseTo(-0.1494, 4);
  expect(fittedAt(fit, 10).u).toBeCloseTo(0.0041, 4);
});

describe('what cannot be fitted is refused with its reason', () => {
  test('too few loads, the same load throughout, numbers that are none', () => {
    const two = [
      { x: 0, y: 0 },
      { x: 10, y: 1 },
    ];
    expect(polynomialFit(two, { degree: 1 })).toMatchObject({ ok: false });
    expect(polynomialFit([...two, ...two, ...two], { degree: 2 })).toMatchObject({
      ok: false,
      why: expect.stringContaining('2 loads are too few') as string,
    });
    expect(polynomialFit([...two, { x: Number.NaN, y: 1 }], { degree: 1 })).toMatchObject({
      ok: false,
    });
    expect(polynomialFit([...two, { x: 5, y: 1, weight: 0 }], { degree: 1 })).toMatchObject({
      ok: false,
    });
  });

  test('without a load applied twice there is no evidence of lack of fit', () => {
    const once = [0, 1, 2, 3].map((x) => ({ x, y: x ** 2 }));
    expect(lackOfFit(once, fitOf(once, { degree: 1 }))).toBeNull();
  });
});

test('weights: an observation of weight two counts as two of weight one', () => {
  const points = [0, 10, 20, 30].map((x) => ({ x, y: 2 * x + Math.sin(x) }));
  const [first = { x: 0, y: 0 }, ...rest] = points;
  const weighted = fitOf([{ ...first, weight: 2 }, ...rest], { degree: 1 });
  const doubled = fitOf([first, ...points], { degree: 1 });
  for (const [index, value] of doubled.coefficients.entries())
    expect(weighted.coefficients[index]).toBeCloseTo(value, 12);
});
