import { measured, type Measured } from '../measured.ts';
import { effectiveDof } from '../uncertainty/combine.ts';
import { found, refused, type Outcome } from './outcome.ts';

/**
 * What a ride height was measured from: the top of the pad beside it, the plane of the patch (a straight
 * edge across the pads), or the ground.
 */
export const HEIGHT_DATUMS = ['pad', 'patch', 'ground'] as const;
export type HeightDatum = (typeof HEIGHT_DATUMS)[number];

export interface RideHeight {
  /** Metre. */
  readonly height: Measured;
  readonly datum: HeightDatum;
}

/** Nobody measures a ride height above hip height. Common practice, no source. */
const MOST_HEIGHT = 1;

/**
 * A ride height brought to the plane of the patch: the height of what it was measured from, over that
 * plane, is added (from the survey; metre, up positive). Null where that is not known: the height then
 * keeps its own datum, and is not to be compared with heights of another.
 */
export const overPatch = (
  { height, datum }: RideHeight,
  surface: Measured | null,
): Outcome<RideHeight> => {
  if (!(height.value > 0 && height.value < MOST_HEIGHT))
    return refused(
      'A ride height lies between zero and one metre.',
      'Measure again, and look at the unit.',
    );
  if (datum === 'patch') return found({ height, datum });
  if (!surface)
    return found({ height, datum }, [
      `This height is from the ${datum}: survey the patch to bring it to the common plane.`,
    ]);
  return found({
    height: measured(
      height.value + surface.value,
      Math.hypot(height.u, surface.u),
      effectiveDof([height, surface]),
    ),
    datum: 'patch',
  });
};
