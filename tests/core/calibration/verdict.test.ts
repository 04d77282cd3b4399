import { describe, expect, test } from 'vitest';
import { verdictOn, type Evidence } from '../../../core/calibration/verdict.ts';
import { verdictInWords } from '../../../core/calibration/verdictInWords.ts';
import type { Limits } from '../../../core/contract/calibrationRecord.ts';

/** Limits of OIML R 76-1:2006; its clauses are named at each check. */

const CLASS_III: Limits = {
  is: 'class',
  accuracy: 'III',
  interval: 0.1,
  when: 'first verification',
};

const evidence = (change: Partial<Evidence> = {}): Evidence => ({
  points: [
    { load: 50, error: 0.05 },
    { load: 200, error: -0.1 },
    { load: 500, error: 0.149 },
  ],
  characteristics: {
    nonlinearity: null,
    hysteresis: null,
    repeatability: { range: 0.1, load: 200, sd: 0.05, dof: 4 },
    zeroReturn: { value: -0.05, load: 500 },
    creep: { change: 0.05, load: 500, seconds: 1800, late: 0.02 },
  },
  uApplied: 5e-5 / Math.sqrt(3),
  capacity: 500,
  ...change,
});

const outcomeOf = (change: Partial<Evidence>, against: Limits = CLASS_III): readonly string[] =>
  verdictOn(evidence(change), against)
    .tests.filter(({ outcome }) => outcome !== 'within')
    .map(({ test: name, outcome }) => `${name}: ${outcome}`);

test('exactly at every limit is within', () => {
  const verdict = verdictOn(evidence(), CLASS_III);
  expect(verdict.outcome).toBe('within');
  expect(verdict.tests.map(({ test: name, limit }) => [name, limit])).toEqual([
    // Table 6: 0.5 e to 500 e, 1 e to 2 000 e, 1.5 e to 10 000 e; the fullest use is at 50 or 200 kg.
    ['errors', expect.closeTo(0.05, 12)],
    ['repeatability', expect.closeTo(0.1, 12)],
    ['zero return', expect.closeTo(0.05, 12)],
    ['creep', expect.closeTo(0.05, 12)],
    ['masses', expect.closeTo(0.05, 6)],
    ['intervals', 10_000],
  ]);
});

describe('a little beyond one limit is outside, and says which', () => {
  test('an error between the steps of table 6 (3.5.1)', () => {
    expect(outcomeOf({ points: [{ load: 50, error: 0.051 }] })).toEqual(['errors: outside']);
    expect(outcomeOf({ points: [{ load: 50.1, error: 0.051 }] })).toEqual([]);
    expect(outcomeOf({ points: [{ load: 200.1, error: -0.151 }] })).toEqual(['errors: outside']);
  });

  test('range of repeats (3.6.1), zero return (3.9.4.2), creep (3.9.4.1)', () => {
    const { characteristics } = evidence();
    const withSeen = (seen: Partial<Evidence['characteristics']>): readonly string[] =>
      outcomeOf({ characteristics: { ...characteristics, ...seen } });
    expect(withSeen({ repeatability: { range: 0.11, load: 200, sd: 0.05, dof: 4 } })).toEqual([
      'repeatability: outside',
    ]);
    expect(withSeen({ zeroReturn: { value: 0.051, load: 500 } })).toEqual(['zero return: outside']);
    expect(withSeen({ creep: { change: 0.051, load: 500, seconds: 1800, late: 0 } })).toEqual([
      'creep: outside',
    ]);
    expect(withSeen({ creep: { change: 0.04, load: 500, seconds: 1800, late: 0.021 } })).toEqual([
      'creep: outside',
    ]);
    expect(withSeen({ creep: null, repeatability: null })).toEqual([
      'repeatability: not seen',
      'creep: not seen',
    ]);
  });

  test('masses to a third of the limit (3.7.1), intervals of table 3', () => {
    expect(outcomeOf({ uApplied: 2e-4 })).toEqual(['masses: outside']);
    expect(outcomeOf({ capacity: 1_100 })).toEqual(['intervals: outside']);
    expect(outcomeOf({ capacity: 49 })).toEqual(['intervals: outside']);
  });
});

test('in service the errors are twice as much (3.5.2), the zero’s return is not', () => {
  const against: Limits = { ...CLASS_III, when: 'in service' };
  expect(outcomeOf({ points: [{ load: 50, error: 0.1 }] }, against)).toEqual([]);
  const verdict = verdictOn(evidence(), against);
  expect(verdict.tests.find(({ test: name }) => name === 'zero return')?.limit).toBeCloseTo(
    0.05,
    12,
  );
});

test('masses not known: cannot tell, unless something is outside anyway', () => {
  expect(verdictOn(evidence({ uApplied: null }), CLASS_III).outcome).toBe('cannot tell');
  expect(verdictOn(evidence({ points: [] }), CLASS_III).outcome).toBe('cannot tell');
  expect(
    verdictOn(evidence({ uApplied: null, points: [{ load: 50, error: 1 }] }), CLASS_III).outcome,
  ).toBe('outside');
});

test('own limits: so much and so much of the load', () => {
  const own: Limits = { is: 'own', fixed: 0.06, share: 2e-4 };
  expect(outcomeOf({ points: [{ load: 300, error: 0.12 }] }, own)).toEqual([]);
  expect(outcomeOf({ points: [{ load: 300, error: 0.121 }] }, own)).toContain('errors: outside');
  expect(verdictOn(evidence(), own).tests.map(({ test: name }) => name)).not.toContain('intervals');
});

describe('in words', () => {
  const say = (change: Partial<Evidence>, against: Limits = CLASS_III): string =>
    verdictInWords(verdictOn(evidence(change), against), 'kg').replaceAll('\u00A0', ' ');

  test('within, and what was not seen', () => {
    expect(say({})).toBe('Errors within class III limits at e = 0.1 kg, first verification.');
    const { characteristics } = evidence();
    expect(say({ characteristics: { ...characteristics, creep: null } })).toBe(
      'Errors within class III limits at e = 0.1 kg, first verification. Not seen: creep.',
    );
  });

  test('outside: each test with its number, load and limit', () => {
    expect(say({ points: [{ load: 300, error: -0.21 }], capacity: 1100 })).toBe(
      'Outside class III limits at e = 0.1 kg, first verification: error of \u22120.21 kg at 300.00 kg, limit 0.15 kg and 11000 intervals, the class allows 10000.',
    );
    expect(say({ points: [{ load: 1001, error: 0 }] })).toContain(
      'error at 1001.00 kg, which is beyond the class',
    );
    expect(
      say({ points: [{ load: 300, error: 1 }] }, { is: 'own', fixed: 0.1, share: 0.001 }),
    ).toBe(
      'Outside own limits of 0.10 kg plus 0.100 % of the load: error of 1.00 kg at 300.00 kg, limit 0.40 kg.',
    );
  });

  test('cannot tell, and why', () => {
    expect(say({ uApplied: null })).toContain('how well the applied loads are known is not stated');
    expect(say({ points: [] })).toContain('no load was read');
  });
});
