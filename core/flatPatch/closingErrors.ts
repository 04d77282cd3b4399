import { studentT } from '../signal/studentT.ts';
import type { LevelSurvey } from './levelSurvey.ts';
import type { SightScatter } from './sightScatter.ts';

/** A loop of set-ups from a point back to it. */
export interface ClosingError {
  /** Set-ups and points in turn, as the loop is walked. */
  readonly setUps: readonly string[];
  readonly points: readonly string[];
  /** By how much the heights carried round do not come back, metre. */
  readonly error: number;
  /** Standard uncertainty of that from the scatter of the sights. */
  readonly u: number;
  /** False where the error is more than scatter explains (two-sided, 1 in 100). */
  readonly closes: boolean;
}

const RARE = 0.01;

interface Edge {
  readonly setUp: string;
  readonly point: string;
  readonly mean: number;
  readonly count: number;
}

interface Step {
  readonly node: string;
  readonly by: Edge | null;
  readonly from: Step | null;
  readonly depth: number;
}

/**
 * Closing errors of all independent loops: set-ups and points joined by mean sights make a graph, its
 * tree of shortest ways from the first set-up reaches everything once, and every sight beyond the tree
 * closes one loop. Instrument errors other than scatter are not in `u`.
 */
export const closingErrors = (
  survey: LevelSurvey,
  kept: readonly number[],
  scatter: Pick<SightScatter, 'sd' | 'dof'>,
): readonly ClosingError[] => {
  const sights = kept.flatMap((index) => {
    const sight = survey.sights[index];
    return sight && sight.reading !== null ? [{ ...sight, reading: sight.reading }] : [];
  });
  const edges = [
    ...Map.groupBy(sights, ({ setUp, point }) => JSON.stringify([setUp, point])).values(),
  ].map((own): Edge => {
    const mean = own.reduce((sum, { reading }) => sum + reading, 0) / own.length;
    return { setUp: own[0]?.setUp ?? '', point: own[0]?.point ?? '', mean, count: own.length };
  });

  const reached = new Map<string, Step>();
  const inTree = new Set<Edge>();
  const setUpNode = (id: string): string => `set-up ${id}`;
  const pointNode = (id: string): string => `point ${id}`;
  for (const { setUp } of edges) {
    if (reached.has(setUpNode(setUp))) continue;
    const queue: Step[] = [{ node: setUpNode(setUp), by: null, from: null, depth: 0 }];
    reached.set(setUpNode(setUp), queue[0] as Step);
    for (let head = 0; head < queue.length; head += 1) {
      const here = queue[head] as Step;
      for (const edge of edges) {
        const ends = [setUpNode(edge.setUp), pointNode(edge.point)];
        if (!ends.includes(here.node)) continue;
        const node = (ends[0] === here.node ? ends[1] : ends[0]) as string;
        if (reached.has(node)) continue;
        const step = { node, by: edge, from: here, depth: here.depth + 1 };
        reached.set(node, step);
        inTree.add(edge);
        queue.push(step);
      }
    }
  }

  return edges
    .filter((edge) => !inTree.has(edge))
    .map((edge) => {
      let a = reached.get(setUpNode(edge.setUp)) as Step;
      let b = reached.get(pointNode(edge.point)) as Step;
      const fromSetUp: Edge[] = [];
      const fromPoint: Edge[] = [];
      while (a !== b) {
        if (a.depth >= b.depth) {
          fromSetUp.push(a.by as Edge);
          a = a.from as Step;
        } else {
          fromPoint.push(b.by as Edge);
          b = b.from as Step;
        }
      }
      // Walked from the closing sight's set-up: every set-up is entered by one sight and left by another.
      const loop = [...fromSetUp, ...fromPoint.toReversed(), edge];
      const error = loop.reduce((sum, { mean }, i) => sum + (i % 2 === 0 ? mean : -mean), 0);
      const u = scatter.sd * Math.sqrt(loop.reduce((sum, { count }) => sum + 1 / count, 0));
      return {
        setUps: [...new Set(loop.map(({ setUp }) => setUp))],
        points: [...new Set(loop.map(({ point }) => point))],
        error,
        u,
        closes: Math.abs(error) <= u * studentT(RARE, Math.max(1, scatter.dof)),
      };
    });
};
