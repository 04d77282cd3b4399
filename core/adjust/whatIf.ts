import { balance } from '../balance/balance.ts';
import type { Four } from '../balance/propagate.ts';
import type { Balance, CrossDiagonal } from '../contract/records.ts';
import { CORNERS, CORNER_NAMES, inOrder, perCorner, type PerCorner } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import { kilogram, metre } from '../units.ts';
import { riseShares, type HeightPoint } from './heightPoint.ts';
import type { AdjustReading } from './reading.ts';
import { refused, type AdjustRefusal } from './refusal.ts';
import { statics, type StandingCar } from './statics.ts';
import { predictChange, standingFrom, type TurnResponse } from './turnResponse.ts';

/** Mass put in or (below zero) taken out: ballast, fuel, driver. kg; x, y on the car and z, metre. */
export interface MassChange {
  readonly mass: number;
  readonly x: number;
  readonly y: number;
  /** Height over the pads. */
  readonly z: number;
}

/** The car as it would be. */
export interface WhatIf {
  readonly ok: true;
  /** Newton, with the doubt of the reading and of the response. */
  readonly loads: PerCorner<Measured>;
  /** Weights, shares, cross weight and the centre of gravity. */
  readonly balance: Balance;
  /** Height of the centre of gravity, metre; null where the car's is not known. */
  readonly cgHeight: number | null;
  /** Metre at each point, null where it was not measured; and how far each rises. */
  readonly heights: readonly (Measured | null)[];
  readonly rises: readonly number[];
}

const NONE: PerCorner<number> = { LF: 0, RF: 0, LR: 0, RR: 0 };

/** Added mass moves the centre of gravity, which tilts the car, which moves it again. */
const TILT_ROUNDS = 4;

/** Loads and rises by masses alone. Null where what is left is no standing car. */
const withMasses = (
  of: StandingCar,
  bars: 'on' | 'off',
  masses: readonly MassChange[],
): {
  readonly standing: StandingCar;
  readonly loads: readonly number[];
  readonly rises: readonly number[];
} | null => {
  const { car, mass } = of;
  const at = (x: StandingCar): readonly number[] =>
    inOrder(statics(x, { seats: NONE, pads: NONE, bars }).loads);
  const before = at(of);
  const sum = (f: (m: MassChange) => number): number => masses.reduce((s, m) => s + f(m), 0);
  const total = mass + sum((m) => m.mass);
  if (!(total > 0)) return null;
  const height =
    car.cgHeight === null ? null : (mass * car.cgHeight + sum((m) => m.mass * m.z)) / total;
  if (height !== null && !(height > 0)) return null;
  const x = (-mass * (1 - of.frontShare) * car.wheelbase + sum((m) => m.mass * m.x)) / total;
  const y = (mass * of.cgLeft + sum((m) => m.mass * m.y)) / total;
  const f = bars === 'on' ? [car.barFront, car.barRear] : [0, 0];
  let [forward, left] = [0, 0];
  for (let round = 0; ; round += 1) {
    const share = 1 + (x + forward) / car.wheelbase;
    if (!(share > 0 && share < 1)) return null;
    const standing: StandingCar = {
      ...of,
      car: { ...car, cgHeight: height },
      mass: kilogram(total),
      frontShare: share,
      cgLeft: metre(y + left),
    };
    const loads = at(standing).map((load, i) => load - (before[i] as number));
    // The springs give way by what they carry more: rise = −K⁻¹·ΔF, K an axle's block at a time.
    const rises = [0, 1].flatMap((axle) => {
      const b = f[axle] as number;
      const [l, r] = [2 * axle, 2 * axle + 1];
      const k1 = car.wheelRates[CORNERS[l] as 'LF'] + b;
      const k2 = car.wheelRates[CORNERS[r] as 'RF'] + b;
      const [dl, dr] = [loads[l] as number, loads[r] as number];
      const determinant = k1 * k2 - b * b;
      return [-(k2 * dl + b * dr) / determinant, -(b * dl + k1 * dr) / determinant];
    });
    if (height === null || round === TILT_ROUNDS) return { standing, loads, rises };
    const [lf, rf, lr, rr] = rises as unknown as Four;
    // Nose down takes the centre of gravity forward, left side up takes it right.
    forward = (height * (lr + rr - lf - rf)) / 2 / car.wheelbase;
    left = (-height * ((lf - rf) / car.trackFront + (lr - rr) / car.trackRear)) / 2;
  }
};

/**
 * What turns and masses would make of the car as it was read, at once and without touching it. The
 * reading stays the base: what is computed is only the change. Refuses what would be no standing car.
 */
export const whatIf = (input: {
  readonly reading: AdjustReading;
  readonly response: TurnResponse;
  readonly points: readonly HeightPoint[];
  readonly cross: CrossDiagonal;
  readonly turns: PerCorner<number>;
  readonly masses: readonly MassChange[];
}): WhatIf | AdjustRefusal => {
  const { reading, response, points } = input;
  const { loads: read, gravity } = reading;
  const found = perCorner(
    (corner, i) =>
      response.standing.car.wheelRates[corner] * Math.exp(response.logFactors[4 + i] as number),
  );
  const now = standingFrom({ ...response.standing.car, wheelRates: found }, read.values, gravity);
  if (!now)
    return refused('no reading', 'The four loads do not make a standing car. Lower it and settle.');
  if (input.masses.some((m) => ![m.mass, m.x, m.y, m.z].every(Number.isFinite)))
    return refused('not physical', 'A mass or its place is missing. Enter kg, x, y and height.');
  const masses = input.masses.filter(({ mass }) => mass !== 0);
  let changed: ReturnType<typeof withMasses> = null;
  try {
    changed = withMasses(now, response.bars, masses);
  } catch {
    // Told below: a centre of gravity too high for the springs.
  }
  if (!changed)
    return refused('not physical', 'With these masses no car would stand on its wheels.');

  const heavier: TurnResponse = {
    ...response,
    standing: {
      ...changed.standing,
      car: { ...changed.standing.car, wheelRates: response.standing.car.wheelRates },
    },
  };
  const turned = predictChange(heavier, input.turns);
  const total = (i: number): number =>
    (read.values[i] as number) + (changed.loads[i] as number) + (turned.change[i] as number);
  const values: Four = [total(0), total(1), total(2), total(3)];
  const lifted = CORNERS.filter((_, i) => !((values[i] as number) > 0));
  if (lifted.length > 0)
    return refused(
      'not physical',
      `The ${lifted.map((corner) => CORNER_NAMES[corner]).join(' and ')} would leave the pad.`,
    );
  const covariance = Array.from(
    { length: 16 },
    (_, i) =>
      (read.covariance[i] as number) +
      (turned.covariance[Math.floor(i / 4) * 8 + (i % 4)] as number),
  );
  const loads = perCorner((_, i) =>
    measured(values[i] as number, Math.sqrt(covariance[i * 5] as number), read.dof[i] as number),
  );
  const { car } = now;
  const shown = balance({
    forces: loads,
    covariance,
    gravity,
    cross: input.cross,
    wheelbase: car.wheelbase,
    trackFront: car.trackFront,
    trackRear: car.trackRear,
  });
  if (!shown) return refused('no reading', 'The loads are lost in their own uncertainty.');
  const changes = points.map((point) => {
    const shares = riseShares(car, point);
    let rise = 0;
    let variance = 0;
    for (let i = 0; i < 4; i += 1) {
      const s = shares[i] as number;
      rise += s * ((changed.rises[i] as number) + (turned.change[4 + i] as number));
      for (let k = 0; k < 4; k += 1)
        variance += s * (shares[k] as number) * (turned.covariance[(4 + i) * 8 + 4 + k] as number);
    }
    return { rise, u: Math.sqrt(Math.max(0, variance)) };
  });
  return {
    ok: true,
    loads,
    balance: shown,
    cgHeight: changed.standing.car.cgHeight,
    heights: changes.map(({ rise, u }, i) => {
      const height = reading.heights[i];
      return height ? measured(height.value + rise, Math.hypot(height.u, u), height.dof) : null;
    }),
    rises: changes.map(({ rise }) => rise),
  };
};
