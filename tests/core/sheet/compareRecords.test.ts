import { describe, expect, test } from 'vitest';
import { statics, type Supports } from '../../../core/adjust/statics.ts';
import { CORNERS, perCorner, type PerCorner } from '../../../core/corners.ts';
import { EXAMPLE_CAR, EXAMPLE_CAR_MASS } from '../../../core/sheet/car.ts';
import { compareRecords } from '../../../core/sheet/compareRecords.ts';
import { EXAMPLE_SHEET } from '../../../core/sheet/exampleSheet.ts';
import { kilogram, metre, metrePerSecond2 } from '../../../core/units.ts';
import { captureOf, freshRecord, GRAVITY, read, RULE, sourcesOf, weighed } from './sampleRecord.ts';

/** Whole records against each other; what the car does is the full statics, what is said is not. */

const LEVEL = perCorner(() => 0);
const standing = {
  car: EXAMPLE_CAR,
  mass: kilogram(EXAMPLE_CAR_MASS.mass),
  frontShare: EXAMPLE_CAR_MASS.frontShare,
  cgLeft: metre(EXAMPLE_CAR_MASS.cgLeft),
  gravity: metrePerSecond2(GRAVITY),
};
const car = (change: Partial<Supports> = {}) =>
  statics(standing, { seats: LEVEL, pads: LEVEL, bars: 'off', ...change });
const kg = (loads: PerCorner<number>): PerCorner<number> =>
  perCorner((corner) => loads[corner] / GRAVITY);

/** A record of the car: weighed once, ride heights read by one rule. */
const recordOf = (id: string, found: ReturnType<typeof car>) => {
  const capture = captureOf(`capture ${id}`, kg(found.loads));
  let record = weighed(freshRecord({ id }), capture.id);
  for (const corner of CORNERS) {
    const at = EXAMPLE_CAR.details?.heightPoints.find((point) => point.id === corner);
    if (!at) throw new Error(corner);
    // The floor is stiff: the point rises as the plane through the four corners does.
    const { LF, RF, LR } = found.rise;
    const pitch = (LF - LR) / EXAMPLE_CAR.wheelbase;
    const roll = (LF - RF) / EXAMPLE_CAR.trackFront;
    const middle = (LF + RF) / 2;
    const value = 0.065 + middle + pitch * at.x + roll * at.y;
    record = read(record, { item: `height.${corner}`, value, gauge: RULE, datum: 'patch' });
  }
  return sourcesOf(record, [capture]);
};

/** Repeatability of lowering: 0.15 kg along the warp, hardly any across it. */
const n = [1, -1, -1.68 / 1.65, 1.68 / 1.65];
const repeat = {
  covariance: n.flatMap((one, i) =>
    n.map((other, j) => 0.15 ** 2 * one * other + (i === j ? 0.03 ** 2 : 0)),
  ),
  dof: 12,
};
const about = {
  car: EXAMPLE_CAR,
  sheet: EXAMPLE_SHEET,
  repeat,
  laying: null,
  gravity: GRAVITY,
  records: [],
  adjusted: { calls: [], learnt: null },
  checks: { surveys: [], massChecks: [], zeroShiftLimit: 0.2 },
  wording: { labels: 'LF RF LR RR', massUnit: 'kg' },
} as const;

describe('two records', () => {
  test('an unchanged car is the same', () => {
    const found = compareRecords({
      ...about,
      before: recordOf('a', car()),
      after: recordOf('b', car()),
    });
    expect(found.answer).toMatchObject({ about: 'same', tone: 'calm' });
    expect(found.causes?.answer).toBe('nothing moved');
  });

  test('a seat 1.5 mm down at the right front is found, by loads and heights together', () => {
    const found = compareRecords({
      ...about,
      before: recordOf('a', car()),
      after: recordOf('b', car({ seats: { ...LEVEL, RF: -0.0015 } })),
    });
    expect(found.answer.tone).toBe('alarm');
    expect(found.answer.text).toMatch(
      /^Moved\. First rule out the .*RF pad.*RF seat, spring or damper, about 1\.50?\smm down/,
    );
    const cross = found.comparison?.items.find(({ id }) => id === 'crossShare');
    // Design: 1 mm at the right front moves ±42.2 N at the front and ±43.0 N at the rear.
    const newton = 1.5 * (42.235 + 43.003);
    expect(cross?.change.value).toBeCloseTo(-newton / GRAVITY / 1305, 4);
    expect(cross?.independent).toBe(false);
  });

  test('without a study wide common limits stand for it, and it is said in the line', () => {
    const compare = (seat: number) =>
      compareRecords({
        ...about,
        repeat: null,
        before: recordOf('a', car()),
        after: recordOf('b', car({ seats: { ...LEVEL, RF: seat } })),
      });
    const dropped = compare(-0.003);
    expect(dropped.answer.text).toMatch(/RF seat, spring or damper, about 3\.?0?\smm down/);
    expect(dropped.answer.text).toMatch(/common limits, not by a study of this car\.$/);
    expect(dropped.answer.why.join(' ')).toContain('make the study under Balance, Outing');
    const weight = compare(0).comparison?.items.find(({ id }) => id === 'weight.LF');
    // ±2 kg along the warp and ±0.5 kg beside it, rectangular, once in each record.
    const u = Math.sqrt(2 * (2 ** 2 / 3 + 0.5 ** 2 / 3));
    expect(weight?.change.u).toBeCloseTo(u, 9);
    expect(weight?.limit).toBeCloseTo(2.9 * u, 9);
  });

  test('what keeps causes from being named is said, with what to do', () => {
    const [was, is] = [
      recordOf('a', car()),
      recordOf('b', car({ seats: { ...LEVEL, RF: -0.003 } })),
    ];
    const unweighed = (from: typeof was) => ({
      ...from,
      record: {
        ...from.record,
        entries: from.record.entries.filter(({ is: what }) => what !== 'capture'),
      },
    });
    const text = (before: typeof was, after: typeof was, more = {}) =>
      compareRecords({ ...about, before, after, ...more }).answer.text;
    expect(text(unweighed(was), is)).toMatch(/not weighed in the record before: weigh it in both/);
    expect(text(was, unweighed(is))).toMatch(/not weighed in the record after: weigh it in both/);
    const relaid = { ...is, record: { ...is.record, laying: 2 } };
    expect(text(was, relaid)).toMatch(/patch was laid again in between.*two layings in the study/);
  });

  test('another car is not compared', () => {
    const after = recordOf('b', car());
    const found = compareRecords({
      ...about,
      before: recordOf('a', car()),
      after: { ...after, record: { ...after.record, carId: 'another' } },
    });
    expect(found.answer.text).toBe('Cannot be compared. They are of different cars.');
    expect(found.comparison).toBeNull();
  });
});
