import { describe, expect, test } from 'vitest';
import { compareItems } from '../../../core/compare/compareItems.ts';
import type { ComparisonInput } from '../../../core/compare/comparisonInput.ts';
import { sizedChange } from '../../../core/compare/knownChange.ts';
import { measured } from '../../../core/measured.ts';
import { CASES, compareOnce, rates } from '../../studies/compareCoverage.ts';

/** Items a and b each by themselves, u of a change 0.1·√2; a total of both. */
const two = (
  before: readonly [number, number],
  after: readonly [number, number],
): ComparisonInput => ({
  items: [
    { id: 'a', before: before[0], after: after[0], limit: 0.5 },
    { id: 'b', before: before[1], after: after[1], limit: 0.5 },
  ],
  derived: [
    {
      id: 'total',
      before: before[0] + before[1],
      after: after[0] + after[1],
      limit: 1,
      slopes: [1, 1],
    },
  ],
  noise: {
    repeat: {
      covariance: [
        [0.01, 0],
        [0, 0.01],
      ],
      dof: [20, 20],
    },
    laying: null,
    unshared: null,
    readings: [
      { before: 1, after: 1 },
      { before: 1, after: 1 },
    ],
  },
  known: [],
  states: [],
});

const verdicts = (input: ComparisonInput) =>
  Object.fromEntries(compareItems(input).items.map(({ id, verdict }) => [id, verdict]));

describe('per item', () => {
  test('same, moved, and a total that is not a test of its own', () => {
    const found = compareItems(two([10, 20], [10.05, 21]));
    expect(found.items.map(({ id, verdict }) => [id, verdict])).toEqual([
      ['a', 'same'],
      ['b', 'moved'],
      ['total', 'moved'],
    ]);
    expect(found.independent).toBe(2);
    expect(found.joint.ids).toEqual(['a', 'b']);
    const [, b, total] = found.items;
    // t = 1/0.1414 = 7.07 at 20 degrees of freedom, twice for the family: SciPy 2·7.4e-7.
    expect(b?.tail).toBeLessThan(2e-6);
    expect(b?.independent).toBe(true);
    expect(total?.independent).toBe(false);
    expect(total?.change.u).toBeCloseTo(0.2, 12);
  });

  test('the family is that of the rank: without the total nothing changes for the others', () => {
    const input = two([10, 20], [10, 20.42]);
    const withTotal = compareItems(input).items;
    const without = compareItems({ ...input, derived: [] }).items;
    expect(withTotal.slice(0, 2)).toEqual(without);
  });

  test('a limit finer than we can see is raised, and said', () => {
    const input = two([10, 20], [10, 20.4]);
    const fine = { ...input, items: input.items.map((item) => ({ ...item, limit: 0.1 })) };
    const [, b] = compareItems(fine).items;
    // 3.06·0.1414: 2.9 times (1.7247 + 1.3253)/2.9264.
    expect(b?.limit).toBeCloseTo(2.9 * ((1.724718 + 1.325341) / 2.926406) * 0.1 * Math.SQRT2, 5);
    expect(b?.limitAsked).toBe(0.1);
    expect(b?.verdict).toBe('cannot tell');
    const none = { ...input, items: input.items.map((item) => ({ ...item, limit: null })) };
    expect(compareItems(none).items[1]?.limit).toBe(b?.limit);
  });

  test('cannot tell says how many readings of the car now would', () => {
    // 0.4 of 0.5: same from 0.4 + t(0.95, 20)·0.1·√(1 + 1/n) ≤ 0.5, which no n gives: √ > 1 already.
    expect(compareItems(two([10, 20], [10, 20.4])).items[1]).toMatchObject({
      verdict: 'cannot tell',
      readings: null,
    });
    // 0.32: t = 1.7247, 0.1·√(1 + 1/n)·1.7247 ≤ 0.18 from n = 11.2.
    expect(compareItems(two([10, 20], [10, 20.32])).items[1]).toMatchObject({
      verdict: 'cannot tell',
      readings: 12,
    });
    expect(compareItems(two([10, 20], [10, 20])).items[1]?.readings).toBeNull();
  });
});

describe('what is known is taken out', () => {
  test('with its own uncertainty, and said', () => {
    const input = two([10, 20], [12, 20]);
    const call = sizedChange('LF up ½ turn', { a: 4 }, measured(0.5, 0.1, Infinity));
    const found = compareItems({ ...input, known: [call] });
    expect(found.takenOut).toEqual(['LF up ½ turn']);
    const [a, , total] = found.items;
    expect(a).toMatchObject({ takenOut: 2, change: { value: 0 } });
    expect(a?.change.u).toBeCloseTo(Math.hypot(0.1 * Math.SQRT2, 0.4), 12);
    expect(total?.takenOut).toBe(2);
    expect(total?.change.u).toBeCloseTo(Math.hypot(0.2, 0.4), 12);
    expect(verdicts(input)).toMatchObject({ a: 'moved', total: 'moved' });
  });

  test('one doubt moves all that it reaches together', () => {
    const input = two([10, 20], [11, 19]);
    const moved = sizedChange('ballast moved', { a: 1, b: -1 }, measured(1, 0.3, Infinity));
    const found = compareItems({ ...input, known: [moved] });
    expect(found.joint.covariance[0]?.[1]).toBeCloseTo(-0.09, 12);
    // In the total it cancels.
    expect(found.items[2]?.change.u).toBeCloseTo(0.2, 12);
  });

  test('a difference of state is corrected and said, or the item is not compared', () => {
    const input = two([10, 20], [11, 20]);
    const fuel = sizedChange('1 kg of fuel', { a: 1 }, measured(1, 0, Infinity));
    const corrected = compareItems({
      ...input,
      states: [{ what: 'Fuel', correction: fuel, items: ['a'] }],
    });
    expect(corrected.takenOut).toEqual(['1 kg of fuel']);
    expect(corrected.items[0]?.verdict).toBe('same');
    const refused = compareItems({
      ...input,
      states: [{ what: 'Bars on before, off after.', correction: null, items: ['a'] }],
    });
    expect(refused.items.map(({ id }) => id)).toEqual(['b']);
    expect(refused.notCompared).toEqual([
      {
        id: 'a',
        before: 10,
        after: 11,
        why: 'The car was not in the same state. Bars on before, off after.',
      },
      {
        id: 'total',
        before: 30,
        after: 31,
        why: 'The car was not in the same state. Bars on before, off after.',
      },
    ]);
    expect(refused.independent).toBe(1);
  });
});

test('a hole and an unknown repeatability are said, never filled', () => {
  const input = two([10, 20], [10, 20]);
  const [a, b] = input.items;
  if (!a || !b) throw new Error('two items');
  const hole = compareItems({ ...input, items: [a, { ...b, after: null }] });
  expect(hole.notCompared.map(({ id, why }) => [id, why])).toEqual([
    ['b', 'Not measured in both records.'],
    ['total', 'Not measured in both records.'],
  ]);
  const { repeat } = input.noise;
  const unknown = compareItems({
    ...input,
    noise: {
      ...input.noise,
      repeat: {
        ...repeat,
        covariance: [
          [0.01, 0],
          [0, Number.NaN],
        ],
      },
    },
  });
  expect(unknown.items.map(({ id }) => id)).toEqual(['a']);
  expect(unknown.notCompared[0]?.why).toContain('repeatability is not known');
  const nothing = compareItems({
    ...input,
    items: [],
    derived: [],
    noise: { ...input.noise, readings: [], repeat: { covariance: [], dof: [] } },
  });
  expect(nothing).toMatchObject({ items: [], independent: 0, joint: { ids: [] } });
  expect(() => compareItems({ ...input, noise: { ...input.noise, readings: [] } })).toThrow(
    RangeError,
  );
});

test('scatter found together has fewer degrees of freedom for use together', () => {
  const input = two([10, 20], [10, 20]);
  const repeat = {
    dof: [20, 20],
    covariance: [
      [0.01, 0.004],
      [0.004, 0.01],
    ],
  };
  expect(compareItems({ ...input, noise: { ...input.noise, repeat } }).joint.dof).toEqual([19, 19]);
  expect(compareItems(input).joint.dof).toEqual([20, 20]);
});

test('mirrored records have mirrored changes and the same verdicts', () => {
  const there = compareItems(two([10, 20], [10.3, 21]));
  const back = compareItems(two([10.3, 21], [10, 20]));
  there.items.forEach((item, index) => {
    expect(back.items[index]?.change.value).toBeCloseTo(-item.change.value, 12);
    expect(back.items[index]?.verdict).toBe(item.verdict);
  });
});

/** The reduced twin of tests/studies/compareCoverage.ts. */
describe('error rates by simulation', () => {
  test.each([CASES[1], CASES[3]])('%j', (about) => {
    if (!about) throw new Error('no case');
    const found = rates(about, 120);
    // Three standard errors about the wanted: 2,880 items, 120 cars.
    expect(found.coverage).toBeGreaterThan(0.88);
    expect(found.coverage).toBeLessThan(0.92);
    expect(found.familyFalse).toBeLessThan(0.11);
    expect(found.othersFalse).toBeLessThan(0.11);
    expect(found.sameAtLimit).toBeLessThan(0.07);
    expect(found.sameAtFinest).toBeGreaterThan(0.75);
  });

  test('total and shares of four corners do not count', () => {
    const { independent, items } = compareOnce(
      1,
      CASES[1] ?? { dof: 15, readings: 1, isRelaid: false },
      {
        change: [],
        limits: [],
      },
    );
    expect(items).toHaveLength(24);
    expect(independent).toBe(20);
  });
});
