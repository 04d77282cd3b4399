import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decimalsFor } from '../../../core/format/decimals.ts';
import { fixed, signed } from '../../../core/format/number.ts';
import {
  ageShown,
  inWords,
  lengthShown,
  massChangeShown,
  massShown,
  shareChangeShown,
  shareShown,
  turnsShown,
} from '../../../core/format/quantity.ts';
import { counted } from '../../../core/format/counted.ts';
import { measuredText } from '../../../core/format/valueShown.ts';
import { typedLength, typedMass, typedNumber } from '../../../core/format/typed.ts';

describe('decimals that an uncertainty supports', () => {
  test.each([
    [0.093, 2],
    [0.12, 2],
    [0.29, 2],
    [0.31, 1],
    [0.99, 1],
    [1.4, 1],
    [3, 0],
    [27, 0],
    [0.004, 3],
    [0.0004, 3],
    [0, 3],
    [Infinity, 0],
    [Number.NaN, 0],
  ])('u = %s: %s', (u, decimals) => {
    expect(decimalsFor(u, 3)).toBe(decimals);
  });

  test('the uncertainty never shows more than two significant digits', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-3, max: 50, noNaN: true }), (u) => {
        const digits = u.toFixed(decimalsFor(u, 9)).replace('.', '').replace(/^0+/u, '');
        // Three only where 99.5 and the like round up, or above ten where the unit is the last digit.
        return digits.length <= 2 || /^10+$/u.test(digits);
      }),
      { seed: 41 },
    );
  });
});

describe('numbers', () => {
  test('a true minus, and no sign on what rounds to zero', () => {
    expect([fixed(-1.25, 1), fixed(-0.004, 2), fixed(312.411, 2)]).toEqual([
      '\u22121.3',
      '0.00',
      '312.41',
    ]);
    expect([signed(2.31, 2), signed(-2.31, 2), signed(0.001, 2)]).toEqual([
      '+2.31',
      '\u22122.31',
      '0.00',
    ]);
    expect(() => fixed(Number.NaN, 1)).toThrow(RangeError);
  });

  test('a mass: number, unit and uncertainty, in kg and lb', () => {
    expect(massShown('kg', 312.411, 0.021)).toEqual({ number: '312.41', unit: 'kg', u: '0.02' });
    // 312.411 kg / 0.45359237 = 688.748 lb, exact definition of the pound (NIST SP 811).
    expect(massShown('lb', 312.411, 0.021)).toEqual({ number: '688.75', unit: 'lb', u: '0.05' });
    expect(massShown('kg', 312.411, { decimals: 0 })).toEqual({
      number: '312',
      unit: 'kg',
      u: null,
    });
  });

  test('an uncertainty under the last digit gets one more, and is never zero', () => {
    expect(massShown('kg', 312.4114, 0.0042).u).toBe('0.004');
    expect(massShown('kg', 312.4114, 0.00042).u).toBe('<0.001');
    expect(massShown('kg', 312.4114, 0).u).toBe('0.00');
  });

  test('changes carry their sign; shares are percent; lengths millimetres', () => {
    expect(massChangeShown('kg', 2.31, 0.03)).toEqual({ number: '+2.31', unit: 'kg', u: '0.03' });
    expect(shareShown(0.50354, 0.0009)).toEqual({ number: '50.35', unit: '%', u: '0.09' });
    expect(shareChangeShown(-0.0035, 0.0001).number).toBe('\u22120.35');
    expect(lengthShown(1.4175, 0.0012)).toEqual({ number: '1417.5', unit: 'mm', u: '1.2' });
    expect(inWords(massShown('kg', 80, 0.3))).toBe('80.0\u00A0±0.3\u00A0kg');
  });

  test.each([
    [0.74, '0.7\u00A0s'],
    [9.99, '9.9\u00A0s'],
    [12.7, '12\u00A0s'],
    [119, '119\u00A0s'],
    [600, '10\u00A0min'],
    [7300, '2\u00A0h'],
    [61 * 86_400, '61 days'],
    [-1, '0.0\u00A0s'],
  ])('an age of %s s', (seconds, text) => {
    expect(ageShown(seconds)).toBe(text);
  });

  test.each([
    [0, '0'],
    [0.25, '+¼'],
    [-0.5, '\u2212½'],
    [1.75, '+1¾'],
    [-2, '\u22122'],
    [0.1, '+0.10'],
  ])('%s turns', (turns, text) => {
    expect(turnsShown(turns)).toBe(text);
  });
});

describe('typed values', () => {
  test.each([
    ['2700', 2.7],
    ['2700 mm', 2.7],
    ['2,7 m', 2.7],
    ['270cm', 2.7],
    ['.5 m', 0.5],
  ])('a length %s', (text, metres) => {
    const typed = typedLength(text);
    expect(typed.ok ? typed.value : typed.why).toBeCloseTo(metres, 12);
  });

  test.each(['', 'long', '2,7 km', '1.2.3', '12 3/16 yd', 'NaN', 'Infinity'])(
    'not a length: "%s"',
    (text) => {
      expect(typedLength(text).ok).toBe(false);
    },
  );

  test('a bare mass is in the unit of the crew; the other unit can be typed', () => {
    expect(typedMass('80,5', 'kg')).toEqual({ ok: true, value: 80.5, understood: '80.5 kg' });
    // 3 × 0.45359237 kg, the exact pound (NIST SP 811).
    expect(typedMass('3 lb', 'kg')).toEqual({
      ok: true,
      value: 3 * 0.45359237,
      understood: '3 lb = 1.4\u00A0kg',
    });
    expect(typedMass('3', 'lb')).toMatchObject({ ok: true, value: 3 * 0.45359237 });
    expect(typedMass('3 st', 'kg').ok).toBe(false);
  });

  test('a number may carry its own unit and no other', () => {
    expect(typedNumber('\u221223,7°', '°')).toMatchObject({ ok: true, value: -23.7 });
    expect(typedNumber('210 m', 'm')).toMatchObject({ ok: true, value: 210 });
    expect(typedNumber('210 ft', 'm').ok).toBe(false);
  });
});

test('a value and its uncertainty end at the same digit', () => {
  const kg = { kind: 'mass', unit: 'kg' } as const;
  const said = (value: number, u: number): string =>
    measuredText(kg, { value, u }).replaceAll('\u00A0', ' ');
  expect(said(1305.2514, 0.14)).toBe('1305.25 kg ±0.14 kg');
  expect(said(1305.2514, 0.4)).toBe('1305.3 kg ±0.4 kg');
  expect(said(1305.2514, 0.001)).toMatch(/^1305\.25\d* kg ±<0\.01\d* kg$/);
  expect(said(1305.2514, 7)).toBe('1305 kg ±7 kg');
});

test('one thing is one thing', () => {
  expect([0, 1, 2].map((count) => counted(count, 'sheet'))).toEqual([
    '0 sheets',
    '1 sheet',
    '2 sheets',
  ]);
  expect(counted(1, 'capture of the rig', 'captures of the rig')).toBe('1 capture of the rig');
});
