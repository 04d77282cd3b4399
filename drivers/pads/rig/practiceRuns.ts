import type { PracticeGauge, PracticePort } from '../../../core/bench/ports.ts';
import type { PracticeHappening } from '../../../core/contract/practiceRun.ts';
import { CORNERS, perCorner, type Corner, type PerCorner } from '../../../core/corners.ts';
import type { Car } from '../../../core/sheet/car.ts';
import { nearestCorner } from '../../../core/sheet/items.ts';
import type { CarDynamics } from './carDynamics.ts';
import type { Random } from './random.ts';

/**
 * What runs do to the practice car, and what its gauges read by hand. Camber does not change with
 * ride height here, nor toe: a car without bump steer.
 */
export type PracticeRuns = Pick<PracticePort, 'sendOut' | 'runs' | 'readGauge'>;

export interface PracticeRunsOptions {
  readonly car: Car;
  readonly dynamics: CarDynamics;
  /** m/s² */
  readonly gravity: number;
  readonly padHeights: PerCorner<number>;
  /** Moves a spring seat, metre at the spring, up positive. */
  readonly moveSeat: (corner: Corner, by: number) => void;
  readonly random: Random;
}

const DEGREE = Math.PI / 180;
/** The practice car as it was built; every number made up, near the example sheet. */
const FUEL_ABOARD = 40;
const FUEL_PLACE = { x: -1.9, y: 0 } as const;
const FLOOR = { height: 0.0637, slope: 0.0037 } as const;
const TOE = { front: -0.05 * DEGREE, rear: 0.1 * DEGREE } as const;
const CAMBER = { front: -3 * DEGREE, rear: -2 * DEGREE } as const;
/** How evenly a crew sets a car, rad. */
const SET_WITHIN = 0.02 * DEGREE;
/** Scatter of one reading and the step of its gauge; common practice, no source. */
const GAUGES = {
  height: { scatter: 2e-4, step: 1e-4 },
  toe: { scatter: 2e-4, step: 1e-5 },
  camber: { scatter: 0.02 * DEGREE, step: 0.01 * DEGREE },
} as const;

export const createPracticeRuns = (options: PracticeRunsOptions): PracticeRuns => {
  const { car, dynamics, gravity, padHeights, moveSeat, random } = options;
  const runs: (readonly PracticeHappening[])[] = [];
  const built = (of: { readonly front: number; readonly rear: number }): PerCorner<number> =>
    perCorner((_, i) => (i < 2 ? of.front : of.rear) + SET_WITHIN * random.between(-1, 1));
  const angles = { toe: built(TOE), camber: built(CAMBER) };
  const bent: Record<Corner, number> = { LF: 0, RF: 0, LR: 0, RR: 0 };
  let burnt = 0;

  const someCorner = (): Corner => CORNERS[Math.floor(random.between(0, CORNERS.length))] ?? 'LF';
  const surprise = (): readonly PracticeHappening[] => {
    const drawn = Math.floor(random.between(0, 4));
    if (drawn === 0) return [];
    if (drawn === 1) {
      const toe = random.between(0.003, 0.008) * (random.uniform() < 0.5 ? -1 : 1);
      return [{ what: 'bent toe link', corner: someCorner(), toe }];
    }
    if (drawn === 2)
      return [{ what: 'dropped seat', corner: someCorner(), by: random.between(0.001, 0.004) }];
    const left = FUEL_ABOARD - burnt;
    return left > 0 ? [{ what: 'fuel burnt', mass: left * random.between(0.2, 0.8) }] : [];
  };

  const suffer = (happening: PracticeHappening): void => {
    switch (happening.what) {
      case 'bent toe link':
        bent[happening.corner] += happening.toe;
        return;
      case 'dropped seat':
        moveSeat(happening.corner, -happening.by);
        return;
      case 'fuel burnt':
        burnt += happening.mass;
        dynamics.gone.set([burnt * gravity, FUEL_PLACE.x, FUEL_PLACE.y]);
    }
  };

  /** The body over the pads at a point: each axle's line, and straight between the axles. */
  const heightAt = (x: number, y: number): number => {
    const overAxle = (left: 0 | 2, track: number): number => {
      const one = dynamics.rise(left);
      const other = dynamics.rise(left + 1);
      return (one + other) / 2 + ((one - other) / track) * y;
    };
    const toRear = -x / car.wheelbase;
    const under = padHeights[nearestCorner(car, { x, y })];
    const rise = overAxle(0, car.trackFront) * (1 - toRear) + overAxle(2, car.trackRear) * toRear;
    return FLOOR.height - FLOOR.slope * x + rise - under;
  };
  const truth = (of: PracticeGauge): number => {
    if (of.is === 'height') return heightAt(of.x, of.y) + of.above;
    return angles[of.is][of.corner] + (of.is === 'toe' ? bent[of.corner] : 0);
  };

  return {
    sendOut: (happens) => {
      const all = happens === 'surprise' ? surprise() : happens;
      const burns = all.reduce((sum, one) => sum + (one.what === 'fuel burnt' ? one.mass : 0), 0);
      if (burnt + burns > FUEL_ABOARD) return false;
      all.forEach(suffer);
      runs.push(all);
      return true;
    },
    runs: () => [...runs],
    readGauge: (of) => {
      const { scatter, step } = GAUGES[of.is];
      return Math.round((truth(of) + scatter * random.normal()) / step) * step;
    },
  };
};
