import type { Measured } from '../measured.ts';
import { weightedFit } from './weightedFit.ts';

/** Why heights do not lie in a plane, as far as they themselves can tell. */
export interface NotPlane {
  /** Readings that, left out one at a time, leave the others in a plane. */
  readonly readings: readonly { readonly name: string; readonly by: Measured }[];
  /** Roll of the front less roll of the rear over the wheelbase, rad, if twist alone explains it. */
  readonly twist: Measured | null;
  /** For the screen: what it is, or what would tell. */
  readonly words: string;
}

/**
 * Tries each single explanation: one reading off the plane of the others, or a body twisted between its
 * axles. With four points each of them explains everything, and only another point can tell.
 */
export const explainNotPlane = (
  points: readonly { readonly name: string; readonly x: number; readonly y: number }[],
  rows: readonly (readonly number[])[],
  heights: readonly Measured[],
  wheelbase: number,
): NotPlane => {
  const readings = points.flatMap(({ name }, i) => {
    // A column of its own for one reading is the same as leaving it out, and says by how much it is off.
    const fit = weightedFit(
      rows.map((row, j) => [...row, j === i ? 1 : 0]),
      heights,
    );
    return fit?.agrees ? [{ name, by: fit.estimate([0, 0, 0, 1]) }] : [];
  });
  const twisted = weightedFit(
    rows.map((row, i) => {
      const { x, y } = points[i] as { x: number; y: number };
      return [...row, (x / wheelbase + 0.5) * y];
    }),
    heights,
  );
  const twist = twisted?.agrees ? twisted.estimate([0, 0, 0, 1]) : null;
  const names = readings.map(({ name }) => name).join(', ');
  const words =
    points.length === 4
      ? 'The four heights do not lie in a plane: one is misread, or the body is twisted. Measure all four again; a fifth reference point would tell which.'
      : readings.length === 0 && !twist
        ? 'The heights do not lie in a plane, and neither one misread height nor a twisted body explains it. Measure all again.'
        : readings.length === 1 && !twist
          ? `The height at ${names} is out of the plane of the others. Measure it again.`
          : readings.length === 0
            ? 'The heights are those of a twisted body. Look at the patch and at what the car rests on, then at the chassis.'
            : `The heights do not lie in a plane: ${names} is misread${twist ? ', or the body is twisted' : ''}. Measure ${readings.length > 1 ? 'these' : 'it'} again.`;
  return { readings, twist, words };
};
