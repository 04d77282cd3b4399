import { lusolve, multiply, transpose } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { standingFrom } from '../../../core/adjust/turnResponse.ts';
import { rideHeightOnTyres } from '../../../core/alignment/rideHeightOnTyres.ts';
import { CORNERS, perCorner } from '../../../core/corners.ts';
import { EXAMPLE_CAR, type Car } from '../../../core/sheet/car.ts';
import type { CarRecord } from '../../../core/sheet/carRecord.ts';
import type { CarState } from '../../../core/sheet/carState.ts';
import { comparableStates, type ComparedStates } from '../../../core/sheet/comparableStates.ts';
import {
  freshRecord,
  GRAVITY,
  LEVEL_WEIGHTS,
  read,
  RULE,
  sourcesOf,
  STATED,
} from './sampleRecord.ts';

/** Without a height of the centre of gravity the springs are all there is, and the check is exact. */
const CAR: Car = { ...EXAMPLE_CAR, cgHeight: null };
const { LF, RF, LR, RR } = LEVEL_WEIGHTS;
const STANDING = standingFrom(
  CAR,
  [LF * GRAVITY, RF * GRAVITY, LR * GRAVITY, RR * GRAVITY],
  GRAVITY,
);

const states = (
  before: CarRecord,
  after: CarRecord,
  car = CAR,
  standing = STANDING,
): ComparedStates =>
  comparableStates({
    car,
    standing,
    before: sourcesOf(before, [], { car }),
    after: sourcesOf(after, [], { car }),
  });
const withState = (changes: Partial<CarState>): CarRecord =>
  freshRecord({ id: 'after', state: { ...freshRecord().state, ...changes } });

/** What the differences say of one item. */
const judged = ({ notComparable, differences }: ComparedStates, id: string) => {
  if (notComparable !== null) return { is: 'not comparable', why: notComparable };
  const touching = differences.filter(({ items }) => items.includes(id));
  const stopping = touching.find(({ correction }) => correction === null);
  if (stopping) return { is: 'not comparable', why: stopping.what };
  return touching.length === 0
    ? { is: 'same' }
    : { is: 'corrected', said: touching.map(({ what }) => what) };
};

describe('two states', () => {
  test('the same: nothing to say', () => {
    const compared = states(freshRecord(), withState({}));
    expect(compared).toEqual({ notComparable: null, differences: [], doubts: [], relaid: false });
    expect(judged(compared, 'weight.LF')).toEqual({ is: 'same' });
  });

  test('another car, or the practice rig against real pads: not at all', () => {
    const other = states(freshRecord(), freshRecord({ carId: 'other' }));
    expect(judged(other, 'fuel')).toEqual({
      is: 'not comparable',
      why: 'They are of different cars.',
    });
    expect(states(freshRecord(), freshRecord({ practice: true })).notComparable).toMatch(
      /practice rig/u,
    );
  });

  test.each([
    [{ laying: 1, surveyId: 'survey-1' }, false],
    [{ laying: 2, surveyId: 'survey-1' }, true],
    [{ laying: 1, surveyId: 'survey-2' }, true],
    [{ laying: null }, null],
  ])('the patch relaid: %o', (changes, relaid) => {
    expect(states(freshRecord(), freshRecord(changes)).relaid).toBe(relaid);
  });

  test('bars on after: loads and heights are not comparable, cambers and the total are', () => {
    const compared = states(freshRecord(), withState({ barsFree: 'no' }));
    const why = 'Anti-roll bars off or at zero preload: yes before, no after';
    expect(judged(compared, 'weight.RR')).toEqual({ is: 'not comparable', why });
    expect(judged(compared, 'height.LF')).toEqual({ is: 'not comparable', why });
    expect(judged(compared, 'total')).toEqual({ is: 'same' });
    expect(judged(compared, 'camber.LF')).toEqual({ is: 'same' });
  });

  test('what was not checked is a doubt and stops nothing', () => {
    const compared = states(
      freshRecord(),
      withState({ fluidsFull: 'not checked', fuelMass: null }),
    );
    expect(compared.differences).toEqual([]);
    expect(compared.doubts).toEqual([
      'Fuel on board: not checked in both records',
      'Fluids full: not checked in both records',
    ]);
  });

  test('represented otherwise, ballast noted in one only: doubts', () => {
    const after = read(
      freshRecord({
        represented: { driver: 'driver', fuel: 'fuel', ballast: 'fixed in its places' },
      }),
      { item: 'ballast.nose', value: 5, gauge: STATED },
    );
    expect(states(freshRecord(), after).doubts).toEqual([
      'ballast nose box: noted in one of them only',
      'driver: dummy before, driver after',
    ]);
  });

  test('a height from another datum is not comparable, the others are', () => {
    const at = (datum: 'pad' | 'ground') =>
      read(freshRecord(), { item: 'height.LF', value: 0.065, gauge: RULE, datum });
    const compared = states(at('pad'), at('ground'));
    expect(judged(compared, 'height.LF')).toEqual({
      is: 'not comparable',
      why: 'ride height left front floor: measured against pad before, ground after',
    });
    expect(judged(compared, 'height.RF')).toEqual({ is: 'same' });
  });
});

describe('fuel burnt is taken out by place', () => {
  const burnt = states(freshRecord(), withState({ fuelMass: 7.6 }));
  const effect = burnt.differences[0]?.correction?.effect ?? {};

  test('it is corrected and said', () => {
    expect(burnt.differences).toHaveLength(1);
    expect(judged(burnt, 'weight.LF')).toEqual({
      is: 'corrected',
      said: ['−12.4\u00A0kg of fuel'],
    });
    expect(judged(burnt, 'wheelbase.left')).toEqual({ is: 'same' });
  });

  test('loads and heights as a plate on four springs has them, solved by a general-purpose library', () => {
    const wheels = [
      [0, 0.84],
      [0, -0.84],
      [-2.7, 0.825],
      [-2.7, -0.825],
    ] as const;
    const k = [180e3, 180e3, 165e3, 165e3];
    const a = wheels.map(([x, y]) => [1, x, y]);
    const stiff = multiply(
      transpose(a),
      a.map((row, i) => row.map((v) => v * k[i]!)),
    );
    const tank = [1, -1.9, 0];
    const sunk = lusolve(
      stiff,
      tank.map((v) => [-12.4 * GRAVITY * v]),
    ) as number[][];
    const sinkAt = (x: number, y: number): number =>
      sunk[0]![0]! + x * sunk[1]![0]! + y * sunk[2]![0]!;
    CORNERS.forEach((corner, i) => {
      const [x, y] = wheels[i]!;
      expect(effect[`weight.${corner}`]).toBeCloseTo((k[i]! * sinkAt(x, y)) / GRAVITY, 6);
    });
    for (const { id, x, y } of CAR.details!.heightPoints)
      expect(effect[`height.${id}`]).toBeCloseTo(-sinkAt(x, y), 9);
    expect(effect['height.LR']).toBeGreaterThan(1e-4);
  });

  test('a reading of the fuel goes before what the state says', () => {
    const after = read(freshRecord(), { item: 'fuel', value: 10, gauge: STATED });
    expect(states(freshRecord(), after).differences[0]?.what).toBe('−10.0\u00A0kg of fuel');
  });

  test('without the place of the tank, or without weights, it is not comparable and says what to do', () => {
    const car = { ...CAR, details: { ...CAR.details!, fuelTank: null } };
    const compared = states(freshRecord(), withState({ fuelMass: 7.6 }), car);
    expect(judged(compared, 'weight.LF')).toEqual({
      is: 'not comparable',
      why: '−12.4\u00A0kg of fuel. Enter the place of the tank with the car and it is corrected.',
    });
    expect(
      states(freshRecord(), withState({ fuelMass: 7.6 }), CAR, null).differences[0]?.correction,
    ).toBeNull();
  });

  test('ballast moved from one place to the other adds up to no mass', () => {
    const at = (nose: number, floor: number) =>
      read(read(freshRecord(), { item: 'ballast.nose', value: nose, gauge: STATED }), {
        item: 'ballast.floor',
        value: floor,
        gauge: STATED,
      });
    const { differences } = states(at(10, 0), at(0, 10));
    expect(differences.map(({ what }) => what)).toEqual([
      '−10.0\u00A0kg of ballast nose box',
      '+10.0\u00A0kg of ballast right of the seat',
    ]);
    const change = (id: string): number =>
      differences.reduce((sum, each) => sum + (each.correction?.effect[id] ?? 0), 0);
    expect(CORNERS.reduce((sum, corner) => sum + change(`weight.${corner}`), 0)).toBeCloseTo(0, 9);
    // Moment about the front axle: 10 kg from x = 0.45 to x = −1.3.
    expect((change('weight.LR') + change('weight.RR')) * 2.7).toBeCloseTo(17.5, 6);
  });
});

describe('set-up wheels and tyres', () => {
  test('ride heights follow the radii, as they are converted for a screen; loads do not compare', () => {
    const compared = states(freshRecord(), withState({ wheels: 'tyres' }));
    const details = CAR.details!;
    const known = (of: { value: number; u: number }) => ({ ...of, dof: Infinity });
    for (const { id, x, y } of details.heightPoints) {
      const onTyres = rideHeightOnTyres({
        height: { value: 0.065, u: 0, dof: Infinity },
        x,
        y,
        setUpWheels: perCorner((corner) => known(details.setUpWheels![corner].radius)),
        tyres: perCorner((corner) => known(details.tyres![corner].loadedRadius)),
        standing: STANDING!,
        bars: 'off',
      });
      const [first] = compared.differences;
      if (!onTyres.ok) throw new Error(onTyres.why);
      expect(first?.correction?.effect[`height.${id}`]).toBeCloseTo(
        onTyres.result.value - 0.065,
        9,
      );
      const doubts = first?.correction?.doubts.map((doubt) => doubt[`height.${id}`] ?? 0) ?? [];
      expect(Math.hypot(...doubts)).toBeCloseTo(onTyres.result.u, 9);
    }
    expect(judged(compared, 'height.LF').is).toBe('corrected');
    expect(judged(compared, 'rake').is).toBe('corrected');
    expect(judged(compared, 'weight.LF')).toEqual({
      is: 'not comparable',
      why: 'On set-up wheels before, on tyres after',
    });
  });

  test('with a radius unknown nothing is corrected', () => {
    const car = { ...CAR, details: { ...CAR.details!, tyres: null } };
    const compared = states(freshRecord(), withState({ wheels: 'tyres' }), car);
    expect(judged(compared, 'height.LF')).toMatchObject({ is: 'not comparable' });
  });
});
