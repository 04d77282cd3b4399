import type { Measured } from '../measured.ts';
import { measured } from '../measured.ts';
import { solvePositiveDefinite } from './solvePositiveDefinite.ts';

/**
 * The band between the two directions of approach. A seat that goes up moves the body against all
 * four struts: the one that is turned holds its own load back, the three others hold the body, which
 * loads the pads more. So at the same turns the warp usually rests ahead of the middle, on the side
 * the turning came to, and where friction is let go it rests in the middle.
 */

/** A rest: the warp (newton at the left front), the turns then, and which way they came. */
export interface Approach {
  readonly warp: Measured;
  /** Turns at the adjuster that moved, from any zero, up positive. */
  readonly turns: number;
  /** The way of the last movement of the adjuster; settled is after friction was let go. */
  readonly from: 'up' | 'down' | 'settled';
}

export interface FrictionBand {
  /**
   * Newton of warp at the same turns, after turning that raises it less after turning that lowers
   * it: above zero the loads run ahead. Null while only one side was seen.
   */
  readonly band: Measured | null;
  /** The warp at the newest turns with friction let go, newton. */
  readonly middle: Measured;
}

/**
 * Estimates band and middle by least squares weighted with the rests' own uncertainty, with what is
 * known of the warp per turn as one more observation: warp = a + b·turns + band/2·direction, the
 * direction being +1 where the last turning raised the warp.
 *
 * `friction` is the largest band that the friction allowed for would make, newton, either way: until
 * both directions were seen the middle is known to ± half of it (rectangular, JCGM 100:2008, 4.3.7).
 * Null where there is no rest.
 */
export const frictionBand = (
  approaches: readonly Approach[],
  perTurn: { readonly value: number; readonly u: number },
  friction: number,
): FrictionBand | null => {
  const newest = approaches.at(-1);
  if (!newest) return null;
  const way = (from: Approach['from']): number =>
    from === 'settled' ? 0 : (from === 'up' ? 1 : -1) * Math.sign(perTurn.value || 1);
  // Turns counted from the newest, so that the constant is the middle sought.
  const rows = approaches.map(({ warp, turns, from }) => ({
    row: [1, turns - newest.turns, way(from) / 2],
    value: warp.value,
    u: warp.u,
  }));
  const sides = new Set(approaches.map(({ from }) => from));
  const known = [
    ...rows,
    { row: [0, 1, 0], value: perTurn.value, u: perTurn.u },
    { row: [0, 0, 1], value: 0, u: friction / Math.sqrt(3) },
  ].map((each) => ({ ...each, u: Math.max(each.u, 1e-9) }));
  const matrix = [0, 1, 2].flatMap((a) =>
    [0, 1, 2].map((b) =>
      known.reduce(
        (sum, { row, u }) => sum + ((row[a] as number) * (row[b] as number)) / u ** 2,
        0,
      ),
    ),
  );
  const solve = (right: readonly number[]): readonly number[] =>
    solvePositiveDefinite(matrix, right);
  const found = solve(
    [0, 1, 2].map((a) =>
      known.reduce((sum, { row, value, u }) => sum + ((row[a] as number) * value) / u ** 2, 0),
    ),
  );
  const u = (i: number): number =>
    Math.sqrt(solve([0, 1, 2].map((a) => (a === i ? 1 : 0)))[i] as number);
  return {
    band: sides.size > 1 ? measured(found[2] as number, u(2), Infinity) : null,
    middle: measured(found[0] as number, u(0), Infinity),
  };
};

/**
 * Whether the bench asks for a settle (bounce, or raise and lower): when the doubt of where the car
 * would rest, two standard uncertainties, is more than half of what is allowed, newton of warp; the
 * half is ours, no source.
 */
export const needsSettle = (band: FrictionBand, allowed: number): boolean =>
  2 * band.middle.u > allowed / 2;
