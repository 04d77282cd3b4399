import type { Corner } from '../corners.ts';
import type { Foot, ScrewQuestion } from './screws.ts';

/** A foot as it stands on the ground plan. */
export interface Standing extends Foot {
  readonly pad: Corner;
  /** On the ground plan. */
  readonly atX: number;
  readonly atY: number;
  readonly z: number;
}

/** A plane h + a·x + b·y. */
export type Plane = readonly [h: number, a: number, b: number];
/** A condition that may hold with equality: h + a·x + b·y, or one of the slopes alone, equals `is`. */
type Edge = readonly [h: number, a: number, b: number, is: number];

/** Rounding, in metre or turns. */
export const EPSILON = 1e-9;
/** What going to a screw costs, in turns of one; common practice, no source. */
const HANDLING = 0.5;

/** Height of a plane over a foot. */
export const on = ([h, a, b]: Plane, { atX, atY }: Standing): number => h + a * atX + b * atY;

/** The plane in which three conditions hold with equality (Cramer); null where they do not meet. */
const meet = (p: Edge, q: Edge, r: Edge): Plane | null => {
  const det = (a: readonly number[], b: readonly number[], c: readonly number[]): number => {
    const [a0 = 0, a1 = 0, a2 = 0] = a;
    const [b0 = 0, b1 = 0, b2 = 0] = b;
    const [c0 = 0, c1 = 0, c2 = 0] = c;
    return a0 * (b1 * c2 - b2 * c1) - a1 * (b0 * c2 - b2 * c0) + a2 * (b0 * c1 - b1 * c0);
  };
  const whole = det(p, q, r);
  if (Math.abs(whole) < EPSILON) return null;
  const swap = (k: number) =>
    det(
      ...([p, q, r].map((edge) =>
        [0, 1, 2].map((i) => (i === k ? edge[3] : (edge[i] as number))),
      ) as [number[], number[], number[]]),
    ) / whole;
  return [swap(0), swap(1), swap(2)];
};

/**
 * The reachable plane of least work: it lies at a vertex of what is allowed, where three of the
 * conditions hold with equality (a foot stays, a foot is at the end of its travel, a slope is at its
 * limit), since the turns are a sum of absolute values and linear between them.
 */
export const bestPlane = (
  feet: readonly Standing[],
  { mostSlope, onlyUpward }: Pick<ScrewQuestion, 'mostSlope' | 'onlyUpward'>,
): Plane | null => {
  const edges: Edge[] = [
    [0, 1, 0, mostSlope],
    [0, 1, 0, -mostSlope],
    [0, 0, 1, mostSlope],
    [0, 0, 1, -mostSlope],
    ...feet.flatMap(({ atX, atY, z, up, down }): Edge[] => [
      [1, atX, atY, z],
      [1, atX, atY, z + up],
      ...(onlyUpward ? [] : [[1, atX, atY, z - down] as const]),
    ]),
  ];
  const isAllowed = (plane: Plane): boolean =>
    Math.abs(plane[1]) <= mostSlope + EPSILON &&
    Math.abs(plane[2]) <= mostSlope + EPSILON &&
    feet.every((foot) => {
      const lift = on(plane, foot) - foot.z;
      return lift <= foot.up + EPSILON && lift >= (onlyUpward ? 0 : -foot.down) - EPSILON;
    });
  const workOf = (plane: Plane): number =>
    feet.reduce((sum, foot) => {
      const turns = Math.abs(on(plane, foot) - foot.z) / foot.pitch;
      return sum + turns + (turns > EPSILON ? HANDLING : 0);
    }, 0);
  let best: { readonly plane: Plane; readonly work: number } | null = null;
  for (let i = 0; i < edges.length; i += 1)
    for (let j = i + 1; j < edges.length; j += 1)
      for (let k = j + 1; k < edges.length; k += 1) {
        const plane = meet(edges[i] as Edge, edges[j] as Edge, edges[k] as Edge);
        if (!plane || !isAllowed(plane)) continue;
        const work = workOf(plane);
        if (!best || work < best.work - EPSILON) best = { plane, work };
      }
  return best?.plane ?? null;
};
