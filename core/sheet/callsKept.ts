import type { Adjustment, LearntKept } from '../contract/adjustment.ts';
import type { KeptOf } from '../contract/kept.ts';
import type { Corner } from '../corners.ts';

/** A call that the crew carried out, as far as it is known when: a wall-clock label, ms. */
export interface PlacedCall {
  readonly corner: Corner;
  /** Up positive. */
  readonly turns: number;
  readonly at: number;
}

/** What the adjustments of a car say of what was turned, and of what a turn does. */
export interface CallsKept {
  readonly calls: readonly PlacedCall[];
  /** What was learnt last of the car's response; null while nothing was. */
  readonly learnt: LearntKept | null;
}

/** Turns made in an adjustment: those of its rounds, then those of the steps at work. */
const turnsMade = ({ rounds, open }: Adjustment): readonly Omit<PlacedCall, 'at'>[] => [
  ...rounds.flatMap(({ calls }) => calls),
  ...(open?.steps.slice(0, open.at) ?? []).flatMap((step) =>
    step.do === 'turn' ? [step.call] : [],
  ),
];

/**
 * The calls made in the adjustments of a car. An adjustment is told again with each step: a turn was
 * made when it was first told of.
 */
export const callsKept = (kept: readonly KeptOf<'adjustment'>[], carId: string): CallsKept => {
  const own = kept.filter(({ adjustment }) => adjustment.carId === carId);
  const calls = [...Map.groupBy(own, ({ subject }) => subject).values()].flatMap((tellings) => {
    const placed: PlacedCall[] = [];
    for (const { adjustment, at } of tellings)
      for (const { corner, turns } of turnsMade(adjustment).slice(placed.length))
        placed.push({ corner, turns, at });
    return placed;
  });
  const learnt = own.findLast(({ adjustment }) => adjustment.learnt ?? adjustment.prior);
  return {
    calls: calls.toSorted((a, b) => a.at - b.at),
    learnt: learnt?.adjustment.learnt ?? learnt?.adjustment.prior ?? null,
  };
};
