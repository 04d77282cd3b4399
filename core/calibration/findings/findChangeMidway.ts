import type { Finding } from '../../contract/calibrationRecord.ts';
import { fixed, HARD_SPACE } from '../../format/number.ts';
import type { PlacedPoint } from '../placePoints.ts';
import { lineScatter, type LineScatter } from './lineScatter.ts';

/** Fewest points on either side of a change: two make any line. */
const FEWEST = 3;
/**
 * A change is believed where two lines leave a fifth of the scatter of one, and where they differ by
 * more than 0.3 % of the top load somewhere: hysteresis and creep are less. Common practice, no source.
 */
const LESS_SCATTER = 5;
const MATTERS = 3e-3;

interface Change {
  readonly at: number;
  readonly before: LineScatter;
  readonly after: LineScatter;
  readonly sd: number;
}

const changeAt = (points: readonly PlacedPoint[], at: number): Change | null => {
  const before = lineScatter(points.slice(0, at));
  const after = lineScatter(points.slice(at));
  if (!before || !after) return null;
  const dof = before.dof + after.dof;
  const counts = Math.sqrt((before.squares + after.squares) / dof);
  const slope = Math.min(Math.abs(before.slope), Math.abs(after.slope));
  return { at, before, after, sd: slope > 0 ? counts / slope : Infinity };
};

/**
 * Looks for a place in the row of points where another line begins: a pad or a cell exchanged, struck
 * or moved between two points, whatever serial number it gave.
 */
export const findChangeMidway = (points: readonly PlacedPoint[]): Finding | null => {
  const one = lineScatter(points);
  if (!one) return null;
  const top = Math.max(0, ...points.map(({ force }) => force));
  let best: Change | null = null;
  for (let at = FEWEST; at <= points.length - FEWEST; at += 1) {
    const change = changeAt(points, at);
    if (change && (!best || change.sd < best.sd)) best = change;
  }
  if (!best || best.sd * LESS_SCATTER > one.sd || one.slope === 0) return null;
  const { before, after } = best;
  const apart = (force: number): number =>
    Math.abs(after.zero - before.zero + (after.slope - before.slope) * force) / Math.abs(one.slope);
  if (Math.max(apart(0), apart(top)) < MATTERS * top) return null;
  const first = points[best.at] as PlacedPoint;
  const last = points[best.at - 1] as PlacedPoint;
  const span = (100 * (after.slope - before.slope)) / before.slope;
  return {
    code: 'changed midway',
    weight: 'refuses',
    what: `From point ${first.taken.number} on the readings follow another line: its span is ${fixed(Math.abs(span), 2)}${HARD_SPACE}% ${span < 0 ? 'less' : 'more'}.`,
    why: `Up to point ${last.taken.number} and from point ${first.taken.number} on it reads like two different pads: exchanged, struck, or a cable pulled between them.`,
    next: 'See that it is the pad it says it is and that it stands free, then begin again; the points are kept.',
    points: points.slice(best.at).map(({ taken }) => taken.number),
  };
};
