import type { Measured } from '../measured.ts';
import type { Car } from './car.ts';
import type { CarRecord, Reading } from './carRecord.ts';
import { computedReading } from './computedReading.ts';
import type { Item } from './items.ts';
import { stringParts, stringsIn, type Strings } from './strings.ts';
import { WAY_FIELDS, waysOf, wayTaken } from './ways.ts';

/**
 * The toe readings of a record that were made by string, computed again with the strings as they are
 * now known: to be told again under their own ids. Those that refuse are left as they are.
 */
export const readingsWithStrings = (
  record: CarRecord,
  strings: Strings,
  about: {
    readonly car: Car;
    readonly items: ReadonlyMap<string, Item>;
    readonly known: (item: string) => Measured | null;
  },
): readonly Reading[] =>
  record.entries.flatMap((entry): Reading[] => {
    if (entry.is !== 'reading' || entry.setAside || !stringsIn(entry)) return [];
    const item = about.items.get(entry.item);
    const gauge = record.gauges.find(({ id }) => id === entry.gauge);
    if (!item || !gauge) return [];
    const way = wayTaken(entry.of, waysOf(item));
    const own = entry.of.filter(({ what }) => WAY_FIELDS[way].some((each) => each.what === what));
    const computed = computedReading({
      item,
      way,
      parts: Object.fromEntries(own.map(({ what, value }) => [what, value])),
      gauge,
      datum: entry.datum,
      car: about.car,
      state: record.state,
      strings,
      movedSinceSquared: false,
      known: about.known,
    });
    if (!computed.ok) return [];
    const value = computed.result.find((each) => each.item === item.id)?.value;
    if (!value) return [];
    return [
      {
        ...entry,
        value: value.value,
        own: { u: value.u, dof: value.dof },
        of: [...own, ...stringParts(strings)],
      },
    ];
  });
