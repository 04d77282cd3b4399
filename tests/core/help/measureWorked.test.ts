import { expect, test } from 'vitest';
import { toeAngle } from '../../../core/alignment/toe.ts';
import { measureWorked } from '../../../core/help/measureWorked.ts';
import type { Worked } from '../../../core/help/worked.ts';
import { EXAMPLE_CAR, type Car } from '../../../core/sheet/car.ts';
import { EXAMPLE_CAR_STATE } from '../../../core/sheet/carState.ts';
import type { CarRecord } from '../../../core/sheet/carRecord.ts';
import { CAMBER_GAUGE, freshRecord, read, RULE, sourcesOf } from '../sheet/sampleRecord.ts';

const DEG = Math.PI / 180;
const numberIn = (text: string): number => Number.parseFloat(text.replace('−', '-'));
const of = (worked: readonly Worked[], what: RegExp) => {
  const found = worked.find((each) => what.test(each.what));
  if (!found) throw new Error(`nothing of ${what.source}`);
  const put = found.put.map(({ name, value }) => ({ name, number: numberIn(value) }));
  const given = (name: string): number => put.find((each) => each.name === name)?.number ?? NaN;
  return { ...found, put, given, number: numberIn(found.result) };
};
const worked = (record: CarRecord, car: Car = EXAMPLE_CAR): readonly Worked[] =>
  measureWorked(sourcesOf(record, []), { car, carState: EXAMPLE_CAR_STATE });

test('toe by strings square to the car: the shown distances and diameter give the angle', () => {
  const record = read(freshRecord(), {
    item: 'toe.LF',
    value: toeAngle(0.0015, 0.457),
    gauge: RULE,
    of: [
      { what: 'front of the rim', value: 0.2515 },
      { what: 'rear of the rim', value: 0.25 },
    ],
  });
  const toe = of(worked(record), /^Toe by strings, /u);
  const sine =
    (toe.given('front of the rim') - toe.given('rear of the rim')) /
    toe.given('measuring diameter');
  // 1.5 mm over 457 mm is 0.18806° (the design's check value).
  expect(Math.asin(sine) / DEG).toBeCloseTo(0.18806, 5);
  expect(toe.number).toBeCloseTo(0.18806, 2);
});

test('camber, the gauge turned round: half the difference', () => {
  const record = read(freshRecord(), {
    item: 'camber.RR',
    value: -1.5 * DEG,
    gauge: CAMBER_GAUGE,
    of: [
      { what: 'reading', value: -1.6 * DEG },
      { what: 'turned round', value: 1.4 * DEG },
    ],
  });
  const camber = of(worked(record), /^Camber/u);
  expect(camber.number).toBeCloseTo(
    (camber.given('reading') - camber.given('turned round')) / 2,
    2,
  );
});

test('rake: the shown heights, each by the weight that is shown, and the points', () => {
  const ids = worked(freshRecord()).find(({ what }) => what === 'Rake')?.put.length ?? 0;
  expect(ids).toBeGreaterThan(2);
  const heights = sourcesOf(freshRecord(), []).ties.find(({ item }) => item === 'rake')?.of ?? [];
  const record = heights.reduce(
    (made, { item }, i) => read(made, { item, value: 0.06 + 0.004 * i, gauge: RULE }),
    freshRecord(),
  );
  const rake = of(worked(record), /^Rake$/u);
  const sum = rake.put.reduce((total, { name, number }) => {
    const weight = name.includes('×') ? numberIn(name.split('× ')[1] ?? '') : 1;
    return total + weight * number;
  }, 0);
  expect(Math.abs(rake.number - sum)).toBeLessThan(0.06);
});

test('nothing read yet: each says what is not known', () => {
  for (const { result } of worked(freshRecord())) expect(result).toMatch(/^not known: /u);
});
