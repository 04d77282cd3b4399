import type { KeptOf } from '../contract/kept.ts';
import type { Capture, CrossDiagonal } from '../contract/records.ts';
import type { Car } from './car.ts';
import type { CarRecord, Entry, Gauge } from './carRecord.ts';
import { itemsById, itemsOf } from './items.ts';
import type { ValueSources } from './itemValue.ts';
import type { SetUpSheet } from './setUpSheet.ts';
import { tiesOf } from './ties.ts';

/**
 * Records as they are kept become records as they are used. A record is kept as its head, told again
 * when something in it changes, and its entries one by one; an entry told again takes the place of the
 * earlier telling, where that stood.
 */
export const recordsKept = (
  heads: readonly KeptOf<'car record'>[],
  entries: readonly KeptOf<'record entry'>[],
): readonly CarRecord[] => {
  const newest = new Map(heads.map(({ subject, record }) => [subject, record]));
  const told = Map.groupBy(entries, ({ subject }) => subject);
  return [...newest.entries()].map(([id, head]) => {
    const own = told.get(id) ?? [];
    const byId = new Map<string, Entry>(own.map(({ entry }) => [entry.id, entry]));
    const gauges = new Map<string, Gauge>(head.gauges.map((gauge) => [gauge.id, gauge]));
    for (const { gauge } of own) if (gauge && !gauges.has(gauge.id)) gauges.set(gauge.id, gauge);
    return { ...head, gauges: [...gauges.values()], entries: [...byId.values()] };
  });
};

/** The versions of all sheets, in the order in which they were first kept; the newest telling of each. */
export const sheetsKept = (kept: readonly KeptOf<'sheet'>[]): readonly SetUpSheet[] => [
  ...new Map(kept.map(({ sheet }) => [sheet.id, sheet])).values(),
];

/** Ids of the captures that a record names. */
export const capturesNamed = ({ entries }: CarRecord): readonly string[] =>
  entries.flatMap((entry) => (entry.is === 'capture' ? [entry.captureId] : []));

/** Items and ties of a car without free items: the same for most records of a season. */
const catalogues = new WeakMap<
  Car,
  ReadonlyMap<CrossDiagonal, Pick<ValueSources, 'items' | 'ties'>>
>();

const catalogueOf = (car: Car, cross: CrossDiagonal): Pick<ValueSources, 'items' | 'ties'> => {
  const known = catalogues.get(car);
  const found = known?.get(cross);
  if (found) return found;
  const made = { items: itemsById(itemsOf(car, [])), ties: tiesOf(car, cross) };
  catalogues.set(car, new Map([...(known ?? []), [cross, made]]));
  return made;
};

/** What the values of a record are made from. */
export const sourcesOf = (
  record: CarRecord,
  about: {
    readonly car: Car;
    readonly captures: ReadonlyMap<string, Capture>;
    /** Where neither sheet nor car says it. */
    readonly cross: CrossDiagonal;
    readonly sheet: SetUpSheet | null;
  },
): ValueSources => {
  const { car, captures, sheet } = about;
  const cross = sheet?.cross ?? car.details?.cross ?? about.cross;
  const { items, ties } = catalogueOf(car, cross);
  return {
    record,
    items: record.extras.length === 0 ? items : itemsById(itemsOf(car, record.extras)),
    ties,
    captures,
    cross,
  };
};
