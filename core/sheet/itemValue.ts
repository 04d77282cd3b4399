import type { Capture, CrossDiagonal } from '../contract/records.ts';
import { measured, type Measured } from '../measured.ts';
import { effectiveDof, type Part } from '../uncertainty/combine.ts';
import { fromResolution } from '../uncertainty/standardUncertainty.ts';
import { captureValue } from './captureValue.ts';
import type { Captured, CarRecord, Entry, Gauge, Reading } from './carRecord.ts';
import type { Item } from './items.ts';
import { standingOf } from './stale.ts';
import { throughTie, type Tie } from './ties.ts';

/** What a record says of an item. */
export type ItemValue =
  | {
      readonly is: 'measured';
      readonly value: Measured;
      /** Readings or captures behind it. */
      readonly count: number;
      /** Error that all readings of a gauge share, by gauge; part of `u`. */
      readonly shared: ReadonlyMap<string, Part>;
      /** The rest of `u`: scatter, resolution, pads. */
      readonly scatter: Part;
      /** Parts of the uncertainty that are not known: then `u` is a lower bound, and is said so. */
      readonly unknown: readonly string[];
      /** Work was done since that may have moved it. */
      readonly stale: boolean;
    }
  | { readonly is: 'missing'; readonly why: string };

/** What values are made from. */
export interface ValueSources {
  readonly record: CarRecord;
  readonly items: ReadonlyMap<string, Item>;
  readonly ties: readonly Tie[];
  /** The captures that the record names, by id. */
  readonly captures: ReadonlyMap<string, Capture>;
  /** The diagonal that cross % is wanted for. */
  readonly cross: CrossDiagonal;
}

const missing = (why: string): ItemValue => ({ is: 'missing', why });

const assembled = (
  value: number,
  parts: {
    readonly count: number;
    readonly scatter: Part;
    readonly shared: ReadonlyMap<string, Part>;
    readonly unknown: readonly string[];
    readonly stale: boolean;
  },
): ItemValue => {
  const all = [parts.scatter, ...parts.shared.values()];
  return {
    is: 'measured',
    value: measured(value, Math.hypot(...all.map(({ u }) => u)), effectiveDof(all)),
    ...parts,
    unknown: [...new Set(parts.unknown)],
  };
};

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/**
 * Scatter of a mean of repeats. What was known of the scatter before and what is seen are pooled by
 * their degrees of freedom (JCGM 100:2008, 4.2.4). The resolution (F.2.2.1) is a floor that repeats do
 * not take away: readings that all show the same step say no more than one.
 */
const repeatScatter = (values: readonly number[], prior: Part | null, step: number): Part => {
  const n = values.length;
  const mean = meanOf(values);
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const floor = { u: fromResolution(step), dof: Infinity };
  const dof = (prior?.dof ?? 0) + n - 1;
  if (dof === 0) return floor;
  const variance =
    prior?.dof === Infinity
      ? prior.u ** 2
      : ((prior ? prior.dof * prior.u ** 2 : 0) + squares) / dof;
  const u = Math.sqrt(variance / n);
  return u > floor.u ? { u, dof } : floor;
};

/** Readings of one gauge, averaged. */
const withOneGauge = (readings: readonly Reading[], gauge: Gauge, stale: boolean): ItemValue => {
  const values = readings.map(({ value }) => value);
  return assembled(meanOf(values), {
    count: readings.length,
    scatter: repeatScatter(values, gauge.scatter, gauge.resolution),
    shared: new Map(gauge.shared ? [[gauge.id, gauge.shared]] : []),
    unknown: [
      ...(gauge.scatter === null && readings.length < 2 ? [`scatter of ${gauge.name}`] : []),
      ...(gauge.shared === null ? [`error of ${gauge.name}`] : []),
    ],
    stale,
  });
};

/**
 * Values that were each computed of several readings. How much of their uncertainty repeats would
 * average out is not told, so none of it is; what is seen between them comes on top.
 */
const computedValues = (readings: readonly Reading[], gauge: Gauge, stale: boolean): ItemValue => {
  const values = readings.map(({ value }) => value);
  const own = readings.flatMap((reading) => reading.own ?? []);
  const all = {
    u: Math.hypot(...own.map(({ u }) => u)) / Math.sqrt(own.length),
    dof: Math.min(...own.map(({ dof }) => dof)),
  };
  const n = values.length;
  const mean = meanOf(values);
  const seen = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1);
  const parts = [all, ...(n > 1 ? [{ u: Math.sqrt(seen / n), dof: n - 1 }] : [])];
  return assembled(mean, {
    count: n,
    scatter: { u: Math.hypot(...parts.map(({ u }) => u)), dof: effectiveDof(parts) },
    shared: new Map(),
    // What the gauge's readings share cancels in the differences that such values are made of.
    unknown: gauge.scatter === null && n < 2 ? [`scatter of ${gauge.name}`] : [],
    stale,
  });
};

/** Weighted sum of values made apart: scatters add in squares, what they share adds as it is. */
const combined = (
  of: readonly { readonly value: ItemValue & { is: 'measured' }; readonly weight: number }[],
  { value, count }: { readonly value: number; readonly count: number },
): ItemValue => {
  const scatter = of.map(({ value: each, weight }) => ({
    u: Math.abs(weight) * each.scatter.u,
    dof: each.scatter.dof,
  }));
  const shared = new Map<string, Part>();
  for (const { value: each, weight } of of)
    for (const [gauge, part] of each.shared) {
      const before = shared.get(gauge);
      shared.set(gauge, { u: (before?.u ?? 0) + weight * part.u, dof: part.dof });
    }
  return assembled(value, {
    count,
    scatter: { u: Math.hypot(...scatter.map(({ u }) => u)), dof: effectiveDof(scatter) },
    shared: new Map([...shared].map(([gauge, { u, dof }]) => [gauge, { u: Math.abs(u), dof }])),
    unknown: of.flatMap(({ value: each }) => each.unknown),
    stale: of.some(({ value: each }) => each.stale),
  });
};

const fromReadings = (
  readings: readonly Reading[],
  record: CarRecord,
  stale: boolean,
): ItemValue => {
  const apart = Map.groupBy(readings, ({ gauge, own }) => `${own === null ? '' : 'own '}${gauge}`);
  const groups = [...apart.values()].flatMap((group) => {
    const gauge = record.gauges.find(({ id }) => id === group[0]?.gauge);
    if (!gauge) return [];
    const value = group[0]?.own
      ? computedValues(group, gauge, stale)
      : withOneGauge(group, gauge, stale);
    return value.is === 'measured' ? [{ value, weight: group.length / readings.length }] : [];
  });
  const [only] = groups;
  if (!only) return missing('The gauge of the reading is not in the record.');
  if (groups.length === 1) return only.value;
  const mean = meanOf(readings.map(({ value }) => value));
  return combined(groups, { value: mean, count: readings.length });
};

/** Captures that count, back to the last that was not marked as a repeat of the one before. */
const repeatsOf = (counting: readonly Entry[], record: CarRecord): readonly Captured[] => {
  const { entries } = record;
  const newest = entries.findLastIndex((entry) => counting.includes(entry));
  const first = entries.findLastIndex(
    (entry, index) => index <= newest && entry.is === 'capture' && !entry.repeat,
  );
  return entries
    .slice(Math.max(0, first))
    .filter((entry): entry is Captured => entry.is === 'capture' && counting.includes(entry));
};

const fromCaptures = (
  entries: readonly Entry[],
  item: Item,
  { record, captures, cross }: ValueSources,
  stale: boolean,
): ItemValue => {
  const used = repeatsOf(entries, record).flatMap(({ captureId }) => captures.get(captureId) ?? []);
  const values = used.flatMap((capture) => captureValue(capture, item, cross) ?? []);
  const unknown = used.some((capture) =>
    Object.values(capture.corners).some(({ calibrated }) => !calibrated),
  )
    ? ['calibration of the pads']
    : [];
  const [first] = values;
  if (!first) return missing('The capture is not here.');
  const n = values.length;
  if (n === 1)
    return assembled(first.value, { count: 1, scatter: first, shared: new Map(), unknown, stale });
  const mean = meanOf(values.map(({ value }) => value));
  const seen = values.reduce((sum, { value }) => sum + (value - mean) ** 2, 0) / (n - 1);
  const noise = { u: Math.hypot(...values.map(({ u }) => u)) / n, dof: effectiveDof(values) };
  const scatter = { u: Math.sqrt(seen / n), dof: n - 1 };
  // What is seen between lowerings holds the noise of the windows already.
  return assembled(mean, {
    count: n,
    scatter: scatter.u > noise.u ? scatter : noise,
    shared: new Map(),
    unknown,
    stale,
  });
};

const fromTie = (tie: Tie, sources: ValueSources): ItemValue => {
  const parts = new Map<string, ItemValue & { is: 'measured' }>();
  for (const item of new Set([...tie.of.map((each) => each.item), ...tie.over])) {
    const value = itemValue(item, sources);
    if (value.is === 'missing')
      return missing(`${sources.items.get(item)?.label ?? item}: ${value.why}`);
    parts.set(item, value);
  }
  const through = throughTie(tie, (item) => parts.get(item)?.value.value ?? null);
  if (!through) return missing('There is no load to share.');
  return combined(
    [...parts].map(([item, value]) => ({ value, weight: through.slopes.get(item) ?? 0 })),
    {
      value: through.value,
      count: Math.min(...[...parts.values()].map(({ count }) => count)),
    },
  );
};

/**
 * The value of an item in a record: the mean of the readings that count, or of the newest capture and
 * its repeats, or what follows from other items. Readings from before a change are not averaged with
 * those after it; where there are none after it, the old ones are given and called stale. What
 * readings of one gauge share adds up in total toe and cancels in rake.
 */
export const itemValue = (id: string, sources: ValueSources): ItemValue => {
  const item = sources.items.get(id);
  if (!item) return missing('This car has no such item.');
  const { fresh, stale } = standingOf(sources.record, item);
  const entries = fresh.length > 0 ? fresh : stale;
  const isStale = fresh.length === 0;
  const newest = entries.at(-1);
  if (newest?.is === 'reading') {
    const readings = entries.filter((entry) => entry.is === 'reading');
    return fromReadings(readings, sources.record, isStale);
  }
  if (newest) return fromCaptures(entries, item, sources, isStale);
  const tie = sources.ties.find((each) => each.item === id);
  if (tie) return fromTie(tie, sources);
  return missing(item.from === 'pads' ? 'Not weighed yet.' : 'Not measured yet.');
};
