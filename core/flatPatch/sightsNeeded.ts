import type { Car } from '../sheet/car.ts';
import { twistForm } from './heights.ts';

/** How a survey is to be made for a wanted twist. */
export interface SightsNeeded {
  /** Sights of each point. */
  readonly sights: number;
  /** Standard uncertainty of the twist with them, metre. */
  readonly u: number;
}

/** More than this nobody reads; common practice, no source. */
const MOST_SIGHTS = 30;

/**
 * How many sights of each point tell the twist to `wanted` (standard uncertainty, metre), when a pad is
 * read at `points` points and one sight scatters by `sd`: u² = Σn_j²·sd²/(points·sights). Cone and tilt
 * of the laser cancel where it stands near the middle and the distances are alike. Null where even
 * thirty sights do not.
 */
export const sightsNeeded = (
  car: Car,
  about: { readonly wanted: number; readonly sd: number; readonly points: number },
): SightsNeeded | null => {
  const { wanted, sd, points } = about;
  if (!(wanted > 0) || !(sd > 0) || !(points >= 1)) return null;
  const size = twistForm(car).reduce((sum, each) => sum + each ** 2, 0);
  const sights = Math.max(1, Math.ceil((size * sd ** 2) / (points * wanted ** 2)));
  return sights > MOST_SIGHTS
    ? null
    : { sights, u: Math.sqrt((size * sd ** 2) / (points * sights)) };
};
