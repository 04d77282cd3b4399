import type { BenchState } from '../contract/events.ts';

/** Cars or venues to choose from: without those set aside, but with the ones in use. */
export const notAside = <T extends { readonly id: string }>(
  things: readonly T[],
  { aside, car, venue }: Pick<BenchState, 'aside' | 'car' | 'venue'>,
): readonly T[] =>
  things.filter(({ id }) => !aside.includes(id) || id === car.id || id === venue.id);
