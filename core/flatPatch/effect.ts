import { statics, type StandingCar, type Supports } from '../adjust/statics.ts';
import { CORNERS, perCorner, type PerCorner } from '../corners.ts';
import type { Measured } from '../measured.ts';
import { studentT } from '../signal/studentT.ts';
import { combineHeights, slopeForms, type Heights } from './heights.ts';

/** What the patch as it stands does to a car. */
export interface PatchEffect {
  /** More on each corner than on a level, untwisted patch, kg. */
  readonly corners: PerCorner<Measured>;
  /** More cross weight (RF + LR), as a share of one. */
  readonly cross: Measured;
  /** By which a gauge that goes by gravity reads the left wheels' camber less and the right ones' more, rad. */
  readonly camber: Measured;
}

export interface PatchEffects {
  readonly barsOff: PatchEffect;
  readonly barsOn: PatchEffect;
  /** Load that goes from one side to the other by the centre of gravity's height alone, kg; null without it. */
  readonly slopeShift: Measured | null;
}

const LEVEL: PerCorner<number> = perCorner(() => 0);
const STEP = 1e-4;

const effectOf = (standing: StandingCar, heights: Heights, bars: Supports['bars']): PatchEffect => {
  const base = statics(standing, { seats: LEVEL, pads: LEVEL, bars });
  // Loads are affine in the heights of the pads: one column for each of them, kg per metre.
  const columns = CORNERS.map((raised) => {
    const pads = perCorner((corner) => (corner === raised ? STEP : 0));
    const { loads } = statics(standing, { seats: LEVEL, pads, bars });
    return CORNERS.map((corner) => (loads[corner] - base.loads[corner]) / STEP / standing.gravity);
  });
  const row = (k: number): readonly number[] => columns.map((column) => column[k] as number);
  const total = CORNERS.reduce((sum, corner) => sum + base.loads[corner], 0) / standing.gravity;
  const cross = CORNERS.map(
    (_, j) => ((columns[j]?.[1] as number) + (columns[j]?.[2] as number)) / total,
  );
  return {
    corners: perCorner((_, k) => combineHeights(heights, row(k))),
    cross: combineHeights(heights, cross),
    camber: combineHeights(heights, slopeForms(standing.car).left),
  };
};

/** The effects of the heights of a survey on a car, its bars off and on. */
export const patchEffects = (standing: StandingCar, heights: Heights): PatchEffects => {
  const { car, mass } = standing;
  const track = (car.trackFront + car.trackRear) / 2;
  const perSlope = car.cgHeight === null ? null : (mass * car.cgHeight) / track;
  const left = slopeForms(car).left;
  return {
    barsOff: effectOf(standing, heights, 'off'),
    barsOn: effectOf(standing, heights, 'on'),
    slopeShift:
      perSlope === null
        ? null
        : combineHeights(
            heights,
            left.map((each) => -each * perSlope),
          ),
  };
};

export type PatchVerdict = 'good enough' | 'not good enough' | 'cannot tell';

/**
 * Whether the patch serves a wanted uncertainty of the cross weight (share of one): good where the 95 %
 * interval of what it does lies within the wanted, not good where it lies outside; else more sights.
 */
export const judgePatch = ({ cross }: PatchEffect, wanted: number): PatchVerdict => {
  const half = studentT(0.05, Math.max(1, cross.dof)) * cross.u;
  const size = Math.abs(cross.value);
  if (size + half <= wanted) return 'good enough';
  return size - half > wanted ? 'not good enough' : 'cannot tell';
};
