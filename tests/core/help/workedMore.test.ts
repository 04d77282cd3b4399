import { describe, expect, test } from 'vitest';
import { seatPerTurnWith, sheetResponse, standingFrom } from '../../../core/adjust/turnResponse.ts';
import type { SeasonPoint } from '../../../core/contract/season.ts';
import { adjustWorked } from '../../../core/help/adjustWorked.ts';
import { compareWorked, decidingItem } from '../../../core/help/compareWorked.ts';
import { garageWorked } from '../../../core/help/garageWorked.ts';
import { padsWorked } from '../../../core/help/padsWorked.ts';
import { scrutineeringWorked } from '../../../core/help/scrutineeringWorked.ts';
import { seasonWorked } from '../../../core/help/seasonWorked.ts';
import type { Worked } from '../../../core/help/worked.ts';
import { marginBoard } from '../../../core/scrutineering/marginBoard.ts';
import { adjustersOf } from '../../../core/sheet/adjustersOf.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { EXAMPLE_VENUES } from '../../../core/sheet/venue.ts';

const numberIn = (text: string): number => Number.parseFloat(text.replace('−', '-'));
const of = (worked: readonly Worked[], what: RegExp) => {
  const found = worked.find((each) => what.test(each.what));
  if (!found) throw new Error(`nothing of ${what.source}`);
  const given = (name: string): number =>
    numberIn(found.put.find((each) => each.name === name)?.value ?? '');
  return { ...found, given, number: numberIn(found.result) };
};

/** Upper tail of Student's distribution by Simpson's rule: independent of the product's own. */
const studentTail = (t: number, dof: number): number => {
  const density = (x: number): number => (1 + (x * x) / dof) ** (-(dof + 1) / 2);
  const area = (from: number, to: number): number => {
    const n = 20000;
    const h = (to - from) / n;
    let sum = density(from) + density(to);
    for (let i = 1; i < n; i += 1) sum += (i % 2 === 1 ? 4 : 2) * density(from + i * h);
    return (sum * h) / 3;
  };
  return area(t, 400) / area(-400, 400);
};

const point = (value: number, target: number | null = null): SeasonPoint => ({
  recordId: 'a',
  carId: 'heron',
  at: 0,
  phase: 'check',
  venueName: 'Larkfell',
  value: { value, u: 0.06, dof: 20 },
  isLowerBound: false,
  target,
  isRelease: false,
});

test('season: newest less first, and from the target', () => {
  const worked = seasonWorked({ kind: 'mass', unit: 'kg' }, [point(1305.2), point(1304.1, 1305)]);
  const change = of(worked, /^Change/u);
  expect(change.number).toBeCloseTo(change.given('newest') - change.given('first'), 2);
  expect(change.number).toBeCloseTo(-1.1, 2);
  const target = of(worked, /target/u);
  expect(target.number).toBeCloseTo(target.given('newest') - target.given('target'), 2);
  expect(of(seasonWorked({ kind: 'mass', unit: 'kg' }, [point(1)]), /^Change/u).result).toMatch(
    /^not known: two records/u,
  );
});

test('pads: gravity by the formula that is shown; a measured one is used instead', () => {
  const [venue] = EXAMPLE_VENUES;
  if (!venue) throw new Error('no venue');
  const normal = of(padsWorked({ venue, gravity: 9.813654 }), /^Normal gravity/u);
  // The design's value at 54.1° N, 210 m.
  expect(normal.number).toBeCloseTo(9.813654, 5);
  const s2 = Math.sin((normal.given('latitude') * Math.PI) / 180) ** 2;
  const sea = (9.7803253359 * (1 + 0.00193185265241 * s2)) / Math.sqrt(1 - 0.00669437999014 * s2);
  // The free-air gradient, 3.086 µm/s² a metre.
  expect(normal.number).toBeCloseTo(sea - 3.086e-6 * normal.given('height'), 5);
  const used = padsWorked({ venue: { ...venue, measuredGravity: 9.81371 }, gravity: 9.81371 });
  expect(of(used, /^Gravity used/u).given('measured or published')).toBe(
    of(used, /^Gravity used/u).number,
  );
});

describe('adjust', () => {
  // As the design's check value has it: a stiff chassis, no shift of the centre of gravity.
  const car = { ...EXAMPLE_CAR, chassisStiffness: null, cgHeight: null };
  const standing = standingFrom(car, [3063.7, 3015.2, 3381.2, 3337.6], 9.80665);
  if (!standing) throw new Error('no car');
  const made = sheetResponse(standing, adjustersOf(EXAMPLE_CAR), 'off');
  if (!made.ok) throw new Error(made.why);
  const { response } = made;
  const reading = { gravity: 9.80665 } as Parameters<typeof adjustWorked>[0]['reading'];
  const worked = adjustWorked({ response, reading }, { labels: 'LF RF LR RR', massUnit: 'kg' });

  test('seat a turn times load a millimetre is the load of a turn', () => {
    const turn = of(worked, /One turn up at RF/u);
    expect(turn.number).toBeCloseTo(turn.given('seat a turn') * turn.given('load'), 2);
    // The design's value, centre of gravity fixed: 42.235 N a millimetre of seat at RF, bars off.
    expect(turn.given('load')).toBeCloseTo(42.235 / 9.80665, 1);
  });

  test('the warp pattern turns a seat into a twist', () => {
    const twist = of(worked, /^Twist/u);
    expect(twist.number).toBeCloseTo(twist.given('seat a turn') * twist.given('place'), 2);
    expect(twist.given('seat a turn')).toBeCloseTo(
      1000 * (seatPerTurnWith(response, response.logFactors)[1] ?? 0),
      4,
    );
  });

  test('a corner without an adjuster says so', () => {
    const none = sheetResponse(standing, { ...adjustersOf(EXAMPLE_CAR), LF: null }, 'off');
    if (!none.ok) throw new Error(none.why);
    const said = adjustWorked(
      { response: none.response, reading },
      { labels: 'LF RF LR RR', massUnit: 'kg' },
    );
    expect(of(said, /One turn up at LF/u).result).toBe('not known: this corner has no adjuster');
  });
});

test('compare: change, interval and both chances by the numbers that are shown', () => {
  const item = {
    id: 'weight.LF',
    verdict: 'same',
    before: 312.4,
    after: 312.9,
    change: { value: 0.3, u: 0.2, dof: 10 },
    takenOut: 0.2,
    limit: 1,
    limitAsked: 1,
    interval: [0.3 - 1.812461 * 0.2, 0.3 + 1.812461 * 0.2],
    tail: 0.1645,
    independent: true,
    readings: null,
  } as const;
  const small = { ...item, id: 'weight.RF', change: { ...item.change, value: 0.1 } };
  expect(decidingItem({ items: [small, item] })).toBe(item);
  expect(decidingItem({ items: [] })).toBeNull();
  const worked = compareWorked(
    { items: [item], independent: 1 },
    { item, name: 'LF', wanted: { kind: 'mass', unit: 'kg' } },
  );
  const change = of(worked, /^Change/u);
  expect(change.number).toBeCloseTo(
    change.given('after') - change.given('before') - change.given('explained'),
    2,
  );
  const interval = of(worked, /^Interval/u);
  // t of 90 %, 10 degrees of freedom, from tables: 1.812.
  expect(interval.number).toBeCloseTo(interval.given('change') - 1.812 * interval.given('u'), 2);
  const same = of(worked, /^Same/u);
  const t = (same.given('limit') - Math.abs(same.given('change'))) / same.given('u');
  expect(same.number).toBeCloseTo(studentTail(t, same.given('degrees of freedom')), 3);
  const moved = of(worked, /^Moved/u);
  expect(moved.number).toBeCloseTo(
    2 * studentTail(moved.given('change') / moved.given('u'), moved.given('degrees of freedom')),
    3,
  );
});

test('scrutineering: their reading, the margin and the chance by the numbers that are shown', () => {
  const prediction = { shift: -0.4, between: 0.25, dof: 4, within: 0, limit: 0 };
  const item = {
    id: 'total',
    name: 'Total',
    kind: 'total',
    limit: { low: 1300, high: null },
    ours: 1301.5,
    prediction,
    whyNone: null,
  } as const;
  const [row] = marginBoard([item], 0.95);
  if (!row) throw new Error('no row');
  const worked = scrutineeringWorked(row, { kind: 'mass', unit: 'kg' });
  const theirs = of(worked, /^Their reading/u);
  expect(theirs.number).toBeCloseTo(theirs.given('ours') + theirs.given('theirs less ours'), 1);
  const margin = of(worked, /^Margin/u);
  expect(margin.number).toBeCloseTo(margin.given('their reading') - margin.given('at least'), 1);
  const chance = of(worked, /^Chance/u);
  const t =
    (chance.given('their reading') - chance.given('at least')) /
    chance.given('spread of one reading');
  const passes = 100 * (1 - studentTail(t, chance.given('degrees of freedom')));
  // It is shown rounded down.
  expect(chance.number).toBeLessThanOrEqual(passes);
  expect(passes - chance.number).toBeLessThan(1);

  const [unread] = marginBoard([{ ...item, ours: null }], 0.95);
  if (!unread) throw new Error('no row');
  for (const { result } of scrutineeringWorked(unread, { kind: 'mass', unit: 'kg' }))
    expect(result).toBe('not known: We have not read it.');
});

test('garage: where copies are kept, or that none are', () => {
  expect(garageWorked({ folder: '/media/stick' })[0]?.result).toBe('/media/stick');
  expect(garageWorked({ folder: null })[0]?.result).toMatch(/^not known/u);
});
