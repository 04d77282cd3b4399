import type { Measured } from '../measured.ts';

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
