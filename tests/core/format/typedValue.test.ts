import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { typedValue, type TypedField } from '../../../core/format/typed.ts';
import { QUANTITY_KINDS, UNITS } from '../../../core/format/unitTable.ts';
import { changeText, degreesMinutesText, valueText } from '../../../core/format/valueShown.ts';

const DEG = Math.PI / 180;
const mm: TypedField = { kind: 'length', unit: 'mm' };
const inch: TypedField = { kind: 'length', unit: 'in' };
const deg: TypedField = { kind: 'angle', unit: '°' };
const turns: TypedField = { kind: 'turns', unit: 'turns' };
const kg: TypedField = { kind: 'mass', unit: 'kg' };
/** The measuring diameter of the check value: 1.5 mm over 457 mm is 0.18806°, 11.284′. */
const toe: TypedField = { kind: 'angle', unit: 'mm', diameter: 0.457 };

/** Before the sign of equality stands what was typed, in a form that can be typed again. */
const readBack = (understood: string): string => understood.split(' = ')[0] as string;

describe('what is typed, by hand or by a gauge, is understood', () => {
  test.each<[string, TypedField, number, string]>([
    // Inch and pound are exact: NIST SP 811, appendix B.8.
    ['12 3/16', inch, 12.1875 * 0.0254, '12 3/16 in'],
    ['12 3/16', mm, 12.1875 * 0.0254, '12 3/16 in = 309.6\u00A0mm'],
    ['12 3/16"', mm, 12.1875 * 0.0254, '12 3/16 in = 309.6\u00A0mm'],
    ['12½ in', mm, 12.5 * 0.0254, '12 1/2 in = 317.5\u00A0mm'],
    ['12 1/2 mm', mm, 0.0125, '12 1/2 mm'],
    ['0,5', mm, 0.0005, '0.5 mm'],
    ['.5', mm, 0.0005, '0.5 mm'],
    ['-,25 mm', mm, -0.00025, '−0.25 mm'],
    ['\u2212 0012.50', mm, -0.0125, '−12.50 mm'],
    ['+0012.34 MM\r\n', mm, 0.01234, '12.34 mm'],
    ['2,7 m', mm, 2.7, '2.7 m = 2700.0\u00A0mm'],
    ["1°20'", deg, (4 / 3) * DEG, '1°20′ = 1.33°'],
    ['1°20', deg, (4 / 3) * DEG, '1°20′ = 1.33°'],
    ['1 deg 20 min', deg, (4 / 3) * DEG, '1°20′ = 1.33°'],
    ['1º 20’ 30”', deg, (1 + 20.5 / 60) * DEG, '1°20′30″ = 1.34°'],
    ["-0°30'", deg, -0.5 * DEG, '−0°30′ = −0.50°'],
    ["30'", deg, 0.5 * DEG, '30′ = 0.50°'],
    ["90'", deg, 1.5 * DEG, '90′ = 1.50°'],
    ['−1,25', deg, -1.25 * DEG, '−1.25°'],
    ['11.284′', deg, (11.284 / 60) * DEG, '11.284′ = 0.19°'],
    ['0.02 rad', deg, 0.02, '0.02 rad = 1.15°'],
    ['3 lb', kg, 3 * 0.45359237, '3 lb = 1.4\u00A0kg'],
    ['80,5', kg, 80.5, '80.5 kg'],
    ['500 g', kg, 0.5, '500 g = 0.5\u00A0kg'],
    ['1/2 turn', turns, 0.5, '1/2 turns'],
    ['- 1 1/4', turns, -1.25, '−1 1/4 turns'],
    ['+¾', turns, 0.75, '3/4 turns'],
    ['50,4 %', { kind: 'share', unit: '%' }, 0.504, '50.4 %'],
    ['12 clicks', { kind: 'clicks', unit: 'clicks' }, 12, '12 clicks'],
    ['1.8', { kind: 'pressure', unit: 'bar' }, 1.8e5, '1.8 bar'],
    ['60', { kind: 'volume', unit: 'l' }, 0.06, '60 l'],
    ['0.745', { kind: 'density', unit: 'kg/l' }, 745, '0.745 kg/l'],
    ['180 N/mm', { kind: 'rate', unit: 'N/mm' }, 180e3, '180 N/mm'],
    ['-4', { kind: 'number', unit: '' }, -4, '−4'],
  ])('"%s"', (text, field, value, understood) => {
    const typed = typedValue(text, field);
    expect(typed).toEqual({ ok: true, value: expect.closeTo(value, 12) as number, understood });
  });

  test('units of pressure, rate and stiffness from their definitions', () => {
    const value = (text: string, field: TypedField): number => {
      const typed = typedValue(text, field);
      if (!typed.ok) throw new Error(typed.why);
      return typed.value;
    };
    // NIST SP 811, appendix B.8: psi 6.894 757 E+03 Pa; lbf/in 1.751 268 E+02 N/m; US gal 3.785 412 E-03 m³.
    expect(value('1 psi', { kind: 'pressure', unit: 'bar' })).toBeCloseTo(6894.757, 3);
    expect(value('1 lb/in', { kind: 'rate', unit: 'N/mm' })).toBeCloseTo(175.1268, 4);
    expect(value('1 US gal', { kind: 'volume', unit: 'l' })).toBeCloseTo(3.785412e-3, 9);
    // 25 kN·m/deg is 25000·180/π N·m/rad.
    expect(value('25 kNm/°', { kind: 'torsion', unit: 'Nm/°' })).toBeCloseTo(1432394.488, 3);
  });

  test('toe as millimetres over the measuring diameter', () => {
    for (const text of ['1.5', '1,5 mm', '0.15 cm']) {
      const typed = typedValue(text, toe);
      expect(typed.ok && typed.value / DEG).toBeCloseTo(0.18806, 5);
    }
    const typed = typedValue('0°11.284′', toe);
    expect(typed.ok && typed.value / DEG).toBeCloseTo(0.18806, 4);
    expect(typedValue('460 mm', toe)).toEqual({
      ok: false,
      why: 'That is more than the measuring diameter.',
    });
  });

  test.each<[string, TypedField, RegExp]>([
    ['', mm, /^A length/u],
    ['long', mm, /^A length/u],
    ['1.2.3', mm, /^A length/u],
    ['1,305.2', kg, /^A mass/u],
    ['1305 st', kg, /“st” is not kg, lb or g/u],
    ['12 1/2', mm, /Inch or millimetre\? Write 12 1\/2 in or 12 1\/2 mm/u],
    ['12 17/16', inch, /“17\/16” is not|^A length/u],
    ['1/0', inch, /^A length/u],
    ["5'", mm, /“'” is not mm/u],
    ["1°75'", deg, /go up to 60/u],
    ["1.5°30'", deg, /only in the last part/u],
    ['1°30"', deg, /no minutes/u],
    ['--1', deg, /^An angle/u],
    ['1 mm', deg, /“mm” is not °, ′ or rad/u],
    ['NaN', turns, /^Turns/u],
    ['1e3', mm, /“e3” is not/u],
    ['9'.repeat(400), mm, /^A length/u],
    ['3 kg', { kind: 'number', unit: '' }, /a number alone/u],
  ])('"%s" is refused', (text, field, why) => {
    const typed = typedValue(text, field);
    expect(typed.ok ? typed.understood : typed.why).toMatch(why);
    expect(typed.ok).toBe(false);
  });
});

describe('round trips', () => {
  const fields = fc
    .constantFrom(...QUANTITY_KINDS)
    .chain((kind) =>
      fc.constantFrom(...UNITS[kind]).map(({ unit }): TypedField => ({ kind, unit })),
    );

  test('what was understood can be typed again and is understood as the same', () => {
    const number = fc.oneof(
      fc.tuple(fc.nat(99999), fc.nat(999)).map(([whole, part]) => `${whole}.${part}`),
      fc.tuple(fc.nat(99), fc.integer({ min: 1, max: 15 })).map(([w, n]) => `${w} ${n}/16`),
      fc.tuple(fc.nat(89), fc.nat(59), fc.nat(59)).map(([d, m, s]) => `${d}°${m}'${s}"`),
    );
    fc.assert(
      fc.property(fields, number, fc.constantFrom('', '-', '+', '− '), (field, size, sign) => {
        const first = typedValue(sign + size, field);
        if (!first.ok) return size.includes('°') && field.kind !== 'angle';
        const again = typedValue(readBack(first.understood), field);
        return again.ok && again.value === first.value && again.understood === first.understood;
      }),
      { seed: 17, numRuns: 2000 },
    );
  });

  test('a value written in any unit comes back, to the digits that were written', () => {
    fc.assert(
      fc.property(fields, fc.double({ min: -500, max: 500, noNaN: true }), (field, number) => {
        const unit = UNITS[field.kind].find((each) => each.unit === field.unit)!;
        const text = valueText({ kind: field.kind, unit: field.unit }, number * unit.inSi);
        const typed = typedValue(text, field);
        const half = 0.5000001 * 10 ** -unit.decimals * unit.inSi;
        return typed.ok && Math.abs(typed.value - number * unit.inSi) <= half;
      }),
      { seed: 18, numRuns: 2000 },
    );
  });

  test('degrees and minutes', () => {
    expect(degreesMinutesText(-(4 / 3) * DEG)).toBe('−1°\u00A020.0′');
    expect(degreesMinutesText(-0.00001 * DEG)).toBe('0°\u00A00.0′');
    fc.assert(
      fc.property(fc.double({ min: -89, max: 89, noNaN: true }), (degrees) => {
        const typed = typedValue(degreesMinutesText(degrees * DEG), deg);
        return typed.ok && Math.abs(typed.value / DEG - degrees) < 0.051 / 60;
      }),
      { seed: 19 },
    );
  });

  test('values as text follow their uncertainty', () => {
    expect(valueText({ kind: 'length', unit: null }, 0.0654, 0.0021)).toBe('65.4\u00A0mm');
    expect(valueText({ kind: 'length', unit: 'in' }, 0.0654)).toBe('2.575\u00A0in');
    expect(changeText({ kind: 'share', unit: null }, 0.004)).toBe('+0.4\u00A0%');
    expect(valueText({ kind: 'angle', unit: '°' }, -1.2 * DEG)).toBe('−1.20°');
  });
});
