import { wantedOf } from '../format/wantedOf.ts';
import type { Car } from '../sheet/car.ts';
import { itemsOf } from '../sheet/items.ts';
import { seasonOf, type SeasonRecord } from '../sheet/seasonOf.ts';
import type { MassUnit } from '../units.ts';
import type { Answer } from './answer.ts';
import { seasonAnswer } from './seasonAnswer.ts';

/** The item with which the screen opens. */
export const FIRST_SEASON_ITEM = 'crossShare';

/** How "Is it still the same car?" stands, by the item with which the screen opens. */
export const seasonStanding = (of: {
  readonly car: Car;
  readonly records: readonly SeasonRecord[];
  readonly massUnit: MassUnit;
}): Answer => {
  const { car, records, massUnit } = of;
  const item = itemsOf(car, []).find(({ id }) => id === FIRST_SEASON_ITEM) ?? null;
  return seasonAnswer({
    label: item?.label ?? FIRST_SEASON_ITEM,
    wanted: wantedOf(item, massUnit),
    points: seasonOf(records, FIRST_SEASON_ITEM, { carId: car.id, venueId: null, phase: null }),
  });
};
