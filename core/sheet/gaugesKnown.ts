import type { KeptOf } from '../contract/kept.ts';
import type { QuantityKind } from '../format/unitTable.ts';
import { measured, type Measured } from '../measured.ts';
import { effectiveDof } from '../uncertainty/combine.ts';
import { fromResolution } from '../uncertainty/standardUncertainty.ts';
import type { CarRecord, Datum, Gauge, Reading } from './carRecord.ts';
import type { Item } from './items.ts';
import type { ItemKind } from './itemKinds.ts';

/** What hand readings are taken with and against. */

const DEGREE = Math.PI / 180;

const usual = (
  id: string,
  about: { readonly name: string; readonly quantity: QuantityKind; readonly resolution: number },
): Gauge => ({ id, ...about, scatter: null, shared: null });

/**
 * What there is in any garage, so that nobody has to describe a gauge before the first reading. Of
 * these only the step is known: scatter and error are unknown, and a value read with them says so.
 */
const USUAL_GAUGES: readonly Gauge[] = [
  usual('usual-rule', { name: 'steel rule, 0.5 mm', quantity: 'length', resolution: 5e-4 }),
  usual('usual-angle', { name: 'angle gauge, 0.1°', quantity: 'angle', resolution: 0.1 * DEGREE }),
  usual('usual-scale', { name: 'scale, 0.1 kg', quantity: 'mass', resolution: 0.1 }),
  usual('usual-pressure', {
    name: 'pressure gauge, 0.01 bar',
    quantity: 'pressure',
    resolution: 1e3,
  }),
  usual('usual-turns', { name: 'counted by quarters', quantity: 'turns', resolution: 0.25 }),
  usual('usual-clicks', { name: 'counted clicks', quantity: 'clicks', resolution: 1 }),
  usual('usual-number', { name: 'counted', quantity: 'number', resolution: 1 }),
  usual('usual-share', { name: 'read, 0.1 %', quantity: 'share', resolution: 1e-3 }),
  usual('usual-rate', { name: 'read, 1 N/mm', quantity: 'rate', resolution: 1e3 }),
  usual('usual-volume', { name: 'read, 0.1 l', quantity: 'volume', resolution: 1e-4 }),
  usual('usual-density', { name: 'read, 1 kg/m³', quantity: 'density', resolution: 1 }),
  usual('usual-torsion', { name: 'read, 10 Nm/°', quantity: 'torsion', resolution: 10 / DEGREE }),
];

/** The gauges that are owned, newest telling, without those set aside. */
export const gaugesKept = (kept: readonly KeptOf<'gauge'>[]): readonly Gauge[] =>
  [...new Map(kept.map((each) => [each.subject, each])).values()]
    .filter(({ isAside }) => !isAside)
    .map(({ gauge }) => gauge);

/** What a quantity can be read with: those that are owned, then the usual one. */
export const gaugesFor = (kind: QuantityKind, owned: readonly Gauge[]): readonly Gauge[] =>
  [...owned, ...USUAL_GAUGES].filter(({ quantity }) => quantity === kind);

/** How a reading was taken, where it says so; the newest of its kind of item. */
const lastLike = (
  kind: ItemKind,
  { entries }: CarRecord,
  items: ReadonlyMap<string, Item>,
): Reading | null =>
  entries.findLast(
    (entry): entry is Reading => entry.is === 'reading' && items.get(entry.item)?.kind === kind,
  ) ?? null;

/** How an item is going to be read if nobody says otherwise: as one of its kind was read last. */
export interface HowRead {
  readonly gauge: Gauge;
  readonly datum: Datum | null;
}

/** Data that make sense for a kind of item, the usual one first; none where there is no question. */
export const datumsOf = (kind: ItemKind): readonly Datum[] => {
  switch (kind) {
    case 'height':
      return ['pad', 'patch', 'ground'];
    case 'camber':
    case 'caster':
    case 'steeringAxis':
      return ['gravity', 'patch'];
    case 'toe':
    case 'bumpSteer':
      return ['string on the car', 'string on the ground'];
    default:
      return [];
  }
};

/**
 * Gauge and datum of the next reading of an item: those of the newest reading of its kind in this
 * record, else in the one before, else the first gauge of the quantity and the usual datum.
 */
export const howRead = (
  item: Item,
  about: {
    readonly record: CarRecord;
    readonly before: CarRecord | null;
    readonly owned: readonly Gauge[];
    readonly items: ReadonlyMap<string, Item>;
  },
): HowRead | null => {
  const { record, before, owned, items } = about;
  const choices = gaugesFor(item.quantity, owned);
  for (const each of [record, before]) {
    const last = each && lastLike(item.kind, each, items);
    const id = last?.gauge;
    // A gauge as it is described now, not as it was then.
    const gauge = choices.find((one) => one.id === id) ?? each?.gauges.find((one) => one.id === id);
    if (last && gauge && gauge.quantity === item.quantity) return { gauge, datum: last.datum };
  }
  const [first] = choices;
  return first ? { gauge: first, datum: datumsOf(item.kind)[0] ?? null } : null;
};

/** One reading of a gauge with all that is known of its uncertainty. */
export const readWith = (gauge: Gauge, value: number): Measured => {
  const step = { u: fromResolution(gauge.resolution), dof: Infinity };
  const scatter = gauge.scatter && gauge.scatter.u > step.u ? gauge.scatter : step;
  const parts = [scatter, ...(gauge.shared ? [gauge.shared] : [])];
  return measured(value, Math.hypot(...parts.map(({ u }) => u)), effectiveDof(parts));
};
