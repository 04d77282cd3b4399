import { expect, test } from 'vitest';
import { CORNERS, perCorner, type PerCorner } from '../../../core/corners.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { compareTarget } from '../../../core/sheet/compareTarget.ts';
import { EXAMPLE_SHEET } from '../../../core/sheet/exampleSheet.ts';
import { lineOf } from '../../../core/sheet/setUpSheet.ts';
import { captureOf, freshRecord, GRAVITY, read, RULE, sourcesOf, weighed } from './sampleRecord.ts';

const target = (id: string): number => lineOf(EXAMPLE_SHEET, id)?.target ?? Number.NaN;
const wanted = perCorner((corner) => target(`weight.${corner}`));
/** 0.1 kg of one lowering at each corner. */
const S = 0.1;
const repeat = {
  covariance: CORNERS.flatMap((_, i) => CORNERS.map((_unused, j) => (i === j ? S ** 2 : 0))),
  dof: Infinity,
};
const against = (
  weights: PerCorner<number>,
  change: Partial<Parameters<typeof compareTarget>[0]> = {},
) =>
  compareTarget({
    car: EXAMPLE_CAR,
    gravity: GRAVITY,
    sheet: EXAMPLE_SHEET,
    repeat,
    after: sourcesOf(weighed(freshRecord(), 'now'), [captureOf('now', weights)]),
    ...change,
  });
const verdicts = (found: ReturnType<typeof against>): Readonly<Record<string, string>> =>
  Object.fromEntries((found.comparison?.items ?? []).map(({ id, verdict }) => [id, verdict]));

test('a car that stands as its sheet wants it; what was not measured is said', () => {
  const found = against(wanted);
  expect(verdicts(found)).toMatchObject({
    'weight.LF': 'same',
    'weight.RR': 'same',
    total: 'same',
    crossShare: 'same',
  });
  expect(found.answer).toMatchObject({ about: 'as wanted', tone: 'calm' });
  expect(found.answer.why.join(' ')).toMatch(/left front floor is not compared/u);
  expect(found.causes).toBeNull();
});

test('4 kg over at one corner is off its target, and takes the total with it', () => {
  const found = against({ ...wanted, LF: wanted.LF + 4 });
  expect(verdicts(found)).toMatchObject({ 'weight.LF': 'moved', 'weight.RF': 'same' });
  expect(found.answer).toMatchObject({ about: 'off target', tone: 'alarm' });
  expect(found.answer.text).toContain('left front corner weight');
  const total = found.comparison?.items.find(({ id }) => id === 'total');
  expect(total?.change.value).toBeCloseTo(
    4 + CORNERS.reduce((sum, c) => sum + wanted[c], 0) - target('total'),
    9,
  );
});

test('the doubt is that of one record: its own scatter once, the error of its gauge in full', () => {
  const found = against(wanted, {
    after: sourcesOf(
      read(weighed(freshRecord(), 'now'), {
        item: 'height.LF',
        value: target('height.LF'),
        gauge: RULE,
      }),
      [captureOf('now', wanted)],
    ),
  });
  const u = (id: string): number =>
    found.comparison?.items.find((item) => item.id === id)?.change.u ?? Number.NaN;
  // JCGM 100:2008, 5.1.2: variances of independent parts add.
  expect(u('height.LF')).toBeCloseTo(Math.hypot(RULE.scatter?.u ?? 0, RULE.shared?.u ?? 0), 12);
  expect(u('weight.LF')).toBeGreaterThanOrEqual(S);
  expect(u('weight.LF')).toBeLessThan(1.2 * S);
});

test('without a study of lowerings it is said, and with less fuel than the sheet asks for it is taken out', () => {
  expect(against(wanted, { repeat: null }).answer.text).toMatch(/by common limits/u);
  const empty = freshRecord({ state: { ...EXAMPLE_SHEET.state, fuelMass: 10 } });
  const found = against(wanted, {
    after: sourcesOf(weighed(empty, 'now'), [captureOf('now', wanted)]),
  });
  // 10 kg less on board and the same weights: the car is 10 kg too heavy for its sheet.
  expect(found.comparison?.items.find(({ id }) => id === 'total')?.change.value).toBeCloseTo(
    10 + CORNERS.reduce((sum, c) => sum + wanted[c], 0) - target('total'),
    6,
  );
});

test('a total alone is judged where no corner weight has a target, and only what has one is told', () => {
  const sheet = {
    ...EXAMPLE_SHEET,
    lines: EXAMPLE_SHEET.lines.filter(({ item }) => item === 'total'),
  };
  const found = against({ ...wanted, LF: wanted.LF + 4 }, { sheet });
  expect(verdicts(found)).toEqual({ total: 'moved' });
  expect(found.comparison?.notCompared).toEqual([]);
  expect(found.answer.text).toBe('Off its target: total.');
});
