import type { KeptOf } from '../contract/kept.ts';
import type { TheirReading } from '../contract/season.ts';
import { authoritiesKept, pairsKept } from './keptScrutineering.ts';

/**
 * What scrutineers read of one item of a car (null: of any), oldest first, undated ones at the end. What is
 * set aside is left out. SI; shares as fractions.
 */
export const theirReadings = (asked: {
  readonly authorities: readonly KeptOf<'authority'>[];
  readonly pairs: readonly KeptOf<'pair'>[];
  readonly item: string;
  readonly carId: string | null;
}): readonly TheirReading[] => {
  const { item, carId } = asked;
  const pairs = pairsKept(asked.pairs);
  return authoritiesKept(asked.authorities)
    .flatMap(({ id, authority }) =>
      (pairs.get(id) ?? []).flatMap(({ pair, isAside }): TheirReading[] =>
        isAside || pair.item !== item || (carId !== null && pair.carId !== carId)
          ? []
          : [
              {
                pairId: pair.id,
                day: pair.day,
                authorityName: authority.name,
                event: pair.event,
                value: pair.theirs,
              },
            ],
      ),
    )
    .toSorted((a, b) => (a.day ?? Infinity) - (b.day ?? Infinity));
};
