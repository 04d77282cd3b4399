import { describe, expect, test } from 'vitest';
import { calibrationFactsCsv } from '../../../core/paper/calibration/calibrationFactsCsv.ts';
import {
  calibrationPointsCsv,
  POINT_COLUMNS,
} from '../../../core/paper/calibration/calibrationPointsCsv.ts';
import { bentRecord, reasonedRecord, soundRecord } from './exampleRecords.ts';
import { readTable } from './readCsv.ts';

const number = (text: string | undefined): number => {
  if (text === undefined || text === '') throw new Error('an empty field');
  return Number(text);
};

describe.each([
  ['a straight line', soundRecord()],
  ['a parabola, with points left out', bentRecord()],
])('%s computed again from the files alone', (_, record) => {
  const points = readTable(calibrationPointsCsv(record));
  const facts = readTable(calibrationFactsCsv(record));
  const fact = (part: string, name: string): string =>
    facts.find((row) => row['part'] === part && row['name'] === name)?.['value'] ?? '';
  const series = (part: string, name: string): number[] =>
    facts
      .filter((row) => row['part'] === part && row['name'] === name)
      .map((row) => number(row['value']));
  const polynomial = (coefficients: readonly number[], x: number): number =>
    coefficients.reduce((sum, each, k) => sum + each * x ** (k + 1), 0);

  test('every point is there, those undone too', () => {
    expect(points.map((row) => number(row['number']))).toEqual(
      record.points.map((point) => point.number),
    );
    expect(points.filter((row) => row['undone'] === 'yes').map((row) => row['number'])).toEqual(
      record.points.filter(({ undone }) => undone).map((point) => String(point.number)),
    );
  });

  test('errors, by the coefficients in use over the zero read last', () => {
    const use = series('use', 'coefficient');
    const gravity = number(fact('record', 'gravity'));
    let zero: number | null = null;
    let checked = 0;
    for (const row of points) {
      if (row['error [kg]'] === '' || row['undone'] === 'yes') continue;
      const counts = number(row['counts']);
      const over: number = counts - (zero ?? series('fit', 'zero')[0] ?? NaN);
      if (row['applied [N]'] === '0') zero = counts;
      const error = polynomial(use, over) / gravity - number(row['applied [kg]']);
      expect(error).toBeCloseTo(number(row['error [kg]']), 9);
      checked += 1;
    }
    expect(checked).toBeGreaterThan(20);
  });

  test('residuals and their scatter, by the fit over its own zeros', () => {
    const fit = series('fit', 'coefficient');
    const zeros = series('fit', 'zero');
    const used = points.filter((row) => row['residual [N]'] !== '');
    let squares = 0;
    for (const row of used) {
      const force = number(row['applied [N]']);
      const zero = zeros[number(row['zero']) - 1] ?? NaN;
      const left = number(row['counts']) - zero - polynomial(fit, force);
      const slope = fit.reduce((sum, each, k) => sum + (k + 1) * each * force ** k, 0);
      expect(left / slope).toBeCloseTo(number(row['residual [N]']), 6);
      squares += left ** 2;
    }
    const dof = used.length - fit.length - zeros.length;
    expect(number(fact('fit', 'degrees of freedom'))).toBe(dof);
    // All points have the same scatter of their own, so all weights are one.
    const scatter = number(fact('fit', 'residual standard deviation'));
    expect(Math.sqrt(squares / dof) / scatter).toBeCloseTo(1, 6);
  });
});

test('the header names each column with its unit, and each says what it means', () => {
  const [header] = calibrationPointsCsv(soundRecord()).split('\r\n');
  expect(header).toBe(
    'number,pad,time [s],masses,applied [N],applied [kg],u reference [N],counts,u [counts],dof,zero,cycle,side,error [kg],residual [N],left out,temperature [°C],flags,placed anew,rose on,undone',
  );
  for (const { means } of POINT_COLUMNS) expect(means.length).toBeGreaterThan(5);
});

test('what is not known is empty, and reason and findings are there as written', () => {
  const record = reasonedRecord();
  const facts = readTable(calibrationFactsCsv(record));
  const values = (name: string): (string | undefined)[] =>
    facts.filter((row) => row['name'] === name).map((row) => row['value']);
  expect(values('relative standard uncertainty of what was applied')).toEqual(['']);
  expect(values('standard uncertainty')).toEqual(Array.from({ length: 10 }, () => ''));
  expect(values('in spite of what was found')).toEqual([record.inSpiteOf]);
  expect(values('made at')).toEqual(['2023-11-14T22:13:20Z']);
  for (const part of ['what', 'why', 'next'] as const)
    expect(values(part)).toEqual(record.findings.map((finding) => finding[part]));
});
