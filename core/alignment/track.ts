import type { Measured } from '../measured.ts';
import { found, refused, tooUncertain, type Outcome, type Sides } from './outcome.ts';
import { propagated } from './propagated.ts';

/**
 * Track of an axle, metre, between the middles of its wheels: the spacing of the strings there, less the
 * distance from each string to the hub face, less how far each hub face stands outboard of the wheel's
 * middle (negative for a face inboard of it).
 */
export const track = (input: {
  readonly spacing: Measured;
  readonly toFace: Sides<Measured>;
  readonly faceOutboardOfMiddle: Sides<Measured>;
}): Outcome<Measured> => {
  const { spacing, toFace, faceOutboardOfMiddle } = input;
  const result = propagated(
    [spacing, toFace.left, toFace.right, faceOutboardOfMiddle.left, faceOutboardOfMiddle.right],
    ([w = 0, left = 0, right = 0, l = 0, r = 0]) => w - left - right - l - r,
  );
  if (!result) return tooUncertain;
  if (!(toFace.left.value > 0 && toFace.right.value > 0 && result.value > 0))
    return refused(
      'The strings do not pass outside both wheels.',
      'Measure from each string in to the hub face, and look at the units.',
    );
  return found(result);
};
