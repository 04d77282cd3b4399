import { listed } from '../answers/answer.ts';
import type { KeptOf } from '../contract/kept.ts';
import type { Capture } from '../contract/records.ts';
import { counted } from '../format/counted.ts';
import { dayOfTime, dayText } from '../format/day.ts';
import { CORNERS } from '../corners.ts';
import { pairsKept } from '../scrutineering/keptScrutineering.ts';
import type { CarRecord } from '../sheet/carRecord.ts';
import type { SetUpSheet } from '../sheet/setUpSheet.ts';

/** Where a thing that is owned or known is used: which kept records name it. */

export type UsedAs =
  'record' | 'reading' | 'sheet' | 'capture' | 'lift' | 'calibration' | 'check' | 'pair' | 'plan';

/** What can use a thing, in the order in which it is told: one and many. */
const USED_AS: Readonly<Record<UsedAs, readonly [one: string, many?: string]>> = {
  record: ['record'],
  reading: ['reading'],
  sheet: ['sheet'],
  capture: ['capture'],
  lift: ['axle lift'],
  calibration: ['calibration'],
  check: ['check with a mass', 'checks with a mass'],
  pair: ['pair'],
  plan: ['ballast plan'],
};

/** One use. */
export interface Use {
  readonly as: UsedAs;
  /** Days since 1970 by UTC; null where it is not known. */
  readonly day: number | null;
  /** Venue, event or sheet; null where it is not known. */
  readonly where: string | null;
}

export interface Thing {
  readonly is: 'car' | 'venue' | 'pad' | 'mass set' | 'plates' | 'authority' | 'gauge';
  /** Of a pad its serial number. */
  readonly id: string;
}

/** The records that may name a thing, as they are kept; of one world. */
export interface MayUse {
  /** With their entries. */
  readonly records: readonly CarRecord[];
  readonly sheets: readonly SetUpSheet[];
  readonly captures: readonly Capture[];
  readonly lifts: readonly KeptOf<'axle lift'>[];
  readonly calibrations: readonly KeptOf<'calibration begun'>[];
  readonly checks: readonly KeptOf<'mass check'>[];
  readonly pairs: readonly KeptOf<'pair'>[];
  readonly plans: readonly KeptOf<'ballast plan'>[];
  readonly venues: readonly { readonly id: string; readonly name: string }[];
}

/**
 * Every use of a thing. What was set aside does not count; of records that are told again the newest
 * telling counts.
 */
export const usesOf = (thing: Thing, kept: MayUse): readonly Use[] => {
  const { is, id } = thing;
  const venueName = (venueId: string | null): string | null =>
    kept.venues.find((venue) => venue.id === venueId)?.name ?? null;
  const records = kept.records.filter(({ setAside }) => !setAside);
  const captures = kept.captures.filter(({ setAside }) => !setAside);
  const lifts = [...new Map(kept.lifts.map((each) => [each.lift.id, each.lift])).values()];
  const pairs = [...pairsKept(kept.pairs)].flatMap(([authorityId, own]) =>
    own.flatMap(({ pair, isAside }) => (isAside ? [] : [{ authorityId, pair }])),
  );

  const ofRecords = (names: (record: CarRecord) => boolean): readonly Use[] =>
    records.filter(names).map(({ begunAt, venueId }) => ({
      as: 'record',
      day: dayOfTime(begunAt),
      where: venueName(venueId),
    }));
  const ofCaptures = (names: (capture: Capture) => boolean): readonly Use[] =>
    captures.filter(names).map(({ takenAt, venueName: where }) => ({
      as: 'capture',
      day: dayOfTime(takenAt),
      where,
    }));
  const ofPairs = (names: (each: (typeof pairs)[number]) => boolean): readonly Use[] =>
    pairs.filter(names).map(({ pair }) => ({ as: 'pair', day: pair.day, where: pair.event }));
  const ofPlans = (names: (each: KeptOf<'ballast plan'>) => boolean): readonly Use[] =>
    kept.plans.filter(names).map(({ at }) => ({ as: 'plan', day: dayOfTime(at), where: null }));
  const ofCalibrations = (names: (each: KeptOf<'calibration begun'>) => boolean): readonly Use[] =>
    kept.calibrations
      .filter(names)
      .map(({ at, place }) => ({ as: 'calibration', day: dayOfTime(at), where: place.name }));
  const ofChecks = (names: (each: KeptOf<'mass check'>) => boolean): readonly Use[] =>
    kept.checks
      .filter(names)
      .map(({ at, place }) => ({ as: 'check', day: dayOfTime(at), where: place.name }));

  switch (is) {
    case 'car':
      return [
        ...ofRecords(({ carId }) => carId === id),
        ...kept.sheets
          .filter(({ carId }) => carId === id)
          .map(({ writtenAt, name, number }): Use => ({
            as: 'sheet',
            day: dayOfTime(writtenAt),
            where: `${name} no. ${number}`,
          })),
        ...ofCaptures(({ carId }) => carId === id),
        ...lifts
          .filter(({ carId }) => carId === id)
          .map(({ begunAt }): Use => ({ as: 'lift', day: dayOfTime(begunAt), where: null })),
        ...ofPairs(({ pair }) => pair.carId === id),
        ...ofPlans(({ subject }) => subject === id),
      ];
    case 'venue':
      return [
        ...ofRecords(({ venueId }) => venueId === id),
        ...ofCaptures(({ venueId }) => venueId === id),
        ...ofCalibrations(({ place }) => place.venueId === id),
        ...ofChecks(({ place }) => place.venueId === id),
      ];
    case 'pad':
      return [
        ...ofCaptures(({ corners }) => CORNERS.some((corner) => corners[corner].padSerial === id)),
        ...ofCalibrations(({ subject }) => subject === id),
        ...ofChecks(({ subject }) => subject === id),
      ];
    case 'mass set':
      return ofCalibrations(({ masses }) => masses?.id === id);
    case 'plates':
      return ofPlans(({ problem, plan }) => {
        const size = problem.plates.findIndex((plate) => plate.id === id);
        return size >= 0 && plan.counts.some((counts) => (counts[size] ?? 0) > 0);
      });
    case 'authority':
      return [
        ...ofPairs(({ authorityId }) => authorityId === id),
        ...ofPlans(({ authorityId }) => authorityId === id),
      ];
    case 'gauge':
      return records.flatMap(({ entries, venueId }) =>
        entries.flatMap((entry): readonly Use[] =>
          entry.is === 'reading' && !entry.setAside && entry.gauge === id
            ? [{ as: 'reading', day: dayOfTime(entry.at), where: venueName(venueId) }]
            : [],
        ),
      );
  }
};

/** "3 records and 1 sheet"; "nowhere yet". */
const countsInWords = (uses: readonly Use[]): string => {
  const counts = (Object.keys(USED_AS) as readonly UsedAs[]).flatMap((as) => {
    const count = uses.filter((use) => use.as === as).length;
    return count === 0 ? [] : [counted(count, ...USED_AS[as])];
  });
  return counts.length === 0 ? 'nowhere yet' : listed(counts);
};

/** Uses in words: how many of each, and day by day, the newest first and days not known last. */
export const usesInWords = (
  uses: readonly Use[],
): { readonly counts: string; readonly days: readonly string[] } => ({
  counts: countsInWords(uses),
  days: [...Map.groupBy(uses, ({ day, where }) => JSON.stringify([day, where])).values()]
    .toSorted((a, b) => (b[0]?.day ?? -Infinity) - (a[0]?.day ?? -Infinity))
    .map((own) => {
      const day = own[0]?.day ?? null;
      const where = own[0]?.where ?? null;
      const when = day === null ? 'day not known' : dayText(day);
      return `${when}${where === null ? '' : `, ${where}`}: ${countsInWords(own)}`;
    }),
});
