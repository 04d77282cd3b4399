import { CORNERS, type Corner, type PerCorner } from '../corners.ts';
import type { Adjusters } from './adjuster.ts';

/** The instruction to the mechanics: which adjuster, which way (up positive) and how far. */
export interface Call {
  readonly corner: Corner;
  /** Whole steps of the corner's adjuster, up positive, never zero. */
  readonly steps: number;
  readonly turns: number;
}

/** What the crew does next. */
export type CrewStep =
  | { readonly do: 'turn'; readonly call: Call }
  | { readonly do: 'raise' | 'lower' | 'settle' | 'judge' };

/**
 * The crew's steps for a plan. What can be turned on the pads comes call by call, each judged by
 * the loads; then the car is raised once for all the rest, lowered, settled and judged. Within each
 * the longest call comes first, so that what is left for the others is small when it is planned
 * again. Empty where nothing is turned.
 */
export const crewSteps = (steps: PerCorner<number>, adjusters: Adjusters): readonly CrewStep[] => {
  const calls = CORNERS.flatMap((corner): readonly (Call & { readonly underLoad: boolean })[] => {
    const adjuster = adjusters[corner];
    const count = steps[corner];
    if (!adjuster || count === 0) return [];
    const { stepsPerTurn, underLoad } = adjuster;
    return [{ corner, steps: count, turns: count / stepsPerTurn, underLoad }];
  }).toSorted((a, b) => Math.abs(b.turns) - Math.abs(a.turns));
  const turn = ({ corner, steps: count, turns }: Call): CrewStep => ({
    do: 'turn',
    call: { corner, steps: count, turns },
  });
  const loaded = calls.filter(({ underLoad }) => underLoad);
  const raised = calls.filter(({ underLoad }) => !underLoad);
  return [
    ...loaded.flatMap((call) => [turn(call), { do: 'settle' } as const, { do: 'judge' } as const]),
    ...(raised.length === 0
      ? []
      : ([
          { do: 'raise' },
          ...raised.map(turn),
          { do: 'lower' },
          { do: 'settle' },
          { do: 'judge' },
        ] as const)),
  ];
};
