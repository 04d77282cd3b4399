import type { OffsetInput } from '../../../core/scrutineering/offset.ts';
import type { Pair } from '../../../core/scrutineering/pair.ts';

/** Pairs for tests: each event a list of differences (theirs less ours), ours near a car's mass. */
export const pairsOf = (
  events: readonly (readonly number[])[],
  { ours = 1300, days }: { readonly ours?: number; readonly days?: readonly number[] } = {},
): readonly Pair[] => {
  const state = { seatMass: 80, fuelMass: 20, tyres: 'cold' } as const;
  return events.flatMap((differences, event) =>
    differences.map((difference, index) => ({
      id: `${event}.${index}`,
      event: `event ${event}`,
      label: `event ${event}, pair ${index}`,
      day: days?.[event] ?? null,
      ours,
      theirs: ours + difference,
      gravity: null,
      states: { ours: state, theirs: state },
    })),
  );
};

/** The plainest question about them. */
export const asked = (pairs: readonly Pair[], more: Partial<OffsetInput> = {}): OffsetInput => ({
  kind: 'total',
  pairs,
  next: null,
  theirStep: null,
  followTo: null,
  poolWith: [],
  ...more,
});
