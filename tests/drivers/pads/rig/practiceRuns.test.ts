import { describe, expect, test } from 'vitest';
import { statics } from '../../../../core/adjust/statics.ts';
import type { PracticeHappening } from '../../../../core/contract/practiceRun.ts';
import { CORNERS, inOrder, type PerCorner } from '../../../../core/corners.ts';
import { EXAMPLE_CAR, EXAMPLE_CAR_MASS } from '../../../../core/sheet/car.ts';
import { kilogram, metre, metrePerSecond2 } from '../../../../core/units.ts';
import { everyCorner } from '../../../../drivers/pads/rig/carBuild.ts';
import { rigAt } from '../../rig/listen.ts';

const GRAVITY = 9.81;
const LEVEL = {
  seed: 3,
  noise: 'quiet',
  friction: 0,
  gravity: GRAVITY,
  padHeights: everyCorner(0),
  seatsBefore: everyCorner(0),
} as const;

const lowered = (happens: readonly PracticeHappening[] | 'surprise') => {
  const at = rigAt(LEVEL);
  at.run(0.1);
  expect(at.rig.practice.sendOut(happens)).toBe(true);
  at.rig.practice.lower();
  at.run(25);
  return at;
};
const standing = (mass: number, frontShare: number, cgLeft: number, seats: PerCorner<number>) =>
  statics(
    {
      car: EXAMPLE_CAR,
      mass: kilogram(mass),
      frontShare,
      cgLeft: metre(cgLeft),
      gravity: metrePerSecond2(GRAVITY),
    },
    { seats, pads: everyCorner(0), bars: 'off' },
  );
const { mass, frontShare, cgLeft } = EXAMPLE_CAR_MASS;
const mean = (count: number, read: () => number): number =>
  Array.from({ length: count }, read).reduce((a, b) => a + b) / count;

describe('a run', () => {
  test('a dropped seat loads the pads as the statics has it, and no perch shows it', () => {
    const { rig } = lowered([{ what: 'dropped seat', corner: 'LR', by: 0.003 }]);
    const wanted = standing(mass, frontShare, cgLeft, { ...everyCorner(0), LR: -0.003 / 0.9 });
    inOrder(rig.truth().loads).forEach((load, i) =>
      expect(load).toBeCloseTo(inOrder(wanted.loads)[i] as number, 1),
    );
    expect(rig.truth().loads.LR).toBeLessThan(
      standing(mass, frontShare, cgLeft, everyCorner(0)).loads.LR - 50,
    );
    expect(rig.practice.state().turns).toEqual(everyCorner(0));
  });

  test('burnt fuel leaves the axles by the lever from the tank', () => {
    const { rig } = lowered([{ what: 'fuel burnt', mass: 20 }]);
    const { loads } = rig.truth();
    // Moments about the rear axle, by hand: the tank stands 1.9 m behind the front one of 2.7 m.
    const front = mass * frontShare - (20 * (2.7 - 1.9)) / 2.7;
    const rear = mass * (1 - frontShare) - (20 * 1.9) / 2.7;
    // The body pitches as it rises and its centre of gravity moves with it: some newton at most.
    expect(Math.abs(loads.LF + loads.RF - front * GRAVITY)).toBeLessThan(3);
    expect(Math.abs(loads.LR + loads.RR - rear * GRAVITY)).toBeLessThan(3);
    expect(loads.LF + loads.RF + loads.LR + loads.RR).toBeCloseTo((mass - 20) * GRAVITY, 1);
  });

  test('a bent toe link is read on its wheel alone and weighs nothing', () => {
    const straight = lowered([]).rig;
    const { rig } = lowered([{ what: 'bent toe link', corner: 'RF', toe: -0.006 }]);
    expect(rig.truth().loads).toEqual(straight.truth().loads);
    for (const corner of CORNERS) {
      const read = (of: typeof rig) => mean(40, () => of.practice.readGauge({ is: 'toe', corner }));
      // Both rigs draw the same scatter: what is left is rounding to 0.01 mrad.
      expect(read(rig) - read(straight)).toBeCloseTo(corner === 'RF' ? -0.006 : 0, 4);
    }
  });

  test('a surprise is the same for the same seed and is told only by asking for it', () => {
    const told = () => lowered('surprise').rig.practice.runs();
    expect(told()).toEqual(told());
    // The state says how often it was out, not what happened.
    expect(lowered('surprise').rig.practice.state().runs).toBe(1);
  });

  test('no more fuel burns than there is, and nothing of such a run happens', () => {
    const { rig } = rigAt(LEVEL);
    expect(rig.practice.sendOut([{ what: 'fuel burnt', mass: 30 }])).toBe(true);
    expect(rig.practice.sendOut([{ what: 'fuel burnt', mass: 11 }])).toBe(false);
    expect(rig.practice.runs()).toHaveLength(1);
  });
});

test('ride heights follow the body: a dropped seat lowers its corner as the statics has it', () => {
  const at = { is: 'height', x: -2.7, y: 0.825, above: 0 } as const;
  const read = (happens: readonly PracticeHappening[]) => {
    const { rig } = lowered(happens);
    return mean(40, () => rig.practice.readGauge(at));
  };
  const change = read([{ what: 'dropped seat', corner: 'LR', by: 0.003 }]) - read([]);
  const seats = { ...everyCorner(0), LR: -0.003 / 0.9 };
  const wanted =
    standing(mass, frontShare, cgLeft, seats).rise.LR -
    standing(mass, frontShare, cgLeft, everyCorner(0)).rise.LR;
  // Rounding to 0.1 mm in both means.
  expect(Math.abs(change - wanted)).toBeLessThan(6e-5);
  expect(change).toBeLessThan(-5e-4);
});
