import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { combine, effectiveDof, type Term } from '../../../core/uncertainty/combine.ts';

const term = (name: string, u: number | null, dof: number): Term => ({ name, kind: 'A', u, dof });

describe('worked examples of JCGM 100:2008 (GUM)', () => {
  test('G.4.1: relative 0.25, 0.57, 0.82 % from 10, 5 and 15 readings', () => {
    const found = combine([term('a', 0.25, 9), term('b', 0.57, 4), term('c', 0.82, 14)]);
    expect(found.u).toBeCloseTo(1.03, 2);
    expect(found.dof).toBeCloseTo(19.0, 1);
    // 2.09 · 1.03 %, with the degrees of freedom rounded down as the GUM says: 18, t = 2.10.
    expect(found.expanded).toBeCloseTo(2.2, 1);
  });

  test('H.1: the end gauge, nanometres', () => {
    const parts = [
      { u: 25, dof: 18 },
      { u: 5.8, dof: 24 },
      { u: 3.9, dof: 5 },
      { u: 6.7, dof: 8 },
      { u: 16.599, dof: 2 },
      { u: 2.88679, dof: 50 },
    ];
    // Digits beyond the GUM's 32 nm and 16.7: GTC, examples/GUM_H1.py.
    expect(Math.hypot(...parts.map(({ u }) => u))).toBeCloseTo(31.6637674111, 3);
    expect(effectiveDof(parts)).toBeCloseTo(16.7521475, 3);
  });
});

test('an unknown term is named and not counted; shares of the known ones are one', () => {
  const found = combine([term('noise', 3, 10), term('span', null, 1), term('zero', 4, Infinity)]);
  expect(found).toMatchObject({ u: 5, unknown: ['span'] });
  expect(found.shares[0]).toBeCloseTo(0.36, 12);
  expect(found.shares[1]).toBeNull();
  expect(found.shares[2]).toBeCloseTo(0.64, 12);
});

test('property: the degrees of freedom lie between the least part’s and the sum', () => {
  const part = fc.record({
    u: fc.double({ min: 1e-9, max: 1e9, noNaN: true }),
    dof: fc.double({ min: 1, max: 1000, noNaN: true }),
  });
  fc.assert(
    fc.property(fc.array(part, { minLength: 1, maxLength: 6 }), (parts) => {
      const dof = effectiveDof(parts);
      const sum = parts.reduce((total, each) => total + each.dof, 0);
      expect(dof).toBeGreaterThanOrEqual(Math.min(...parts.map((each) => each.dof)) * (1 - 1e-12));
      expect(dof).toBeLessThanOrEqual(sum * (1 + 1e-12));
    }),
    { seed: 20261125 },
  );
});

test('nothing uncertain, everything known exactly, and what is no uncertainty', () => {
  expect(effectiveDof([])).toBe(Infinity);
  expect(effectiveDof([{ u: 0, dof: 3 }])).toBe(Infinity);
  expect(effectiveDof([{ u: 2, dof: Infinity }])).toBe(Infinity);
  expect(() => combine([term('bad', -1, 3)])).toThrow(RangeError);
});
