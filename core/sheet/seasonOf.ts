import type { Phase } from '../contract/records.ts';
import type { SeasonPoint } from '../contract/season.ts';
import type { CarRecord } from './carRecord.ts';
import { itemValue, type ValueSources } from './itemValue.ts';
import { targetOf, type SetUpSheet } from './setUpSheet.ts';

/** One record as a season has it. */
export interface SeasonRecord {
  readonly sources: ValueSources;
  readonly sheet: SetUpSheet | null;
  readonly venueName: string;
}

/** Which records of a season are asked for; null takes all. */
export interface SeasonFilter {
  readonly carId: string | null;
  readonly venueId: string | null;
  readonly phase: Phase | null;
}

const isAsked = (record: CarRecord, filter: SeasonFilter): boolean =>
  !record.setAside &&
  (filter.carId === null || record.carId === filter.carId) &&
  (filter.venueId === null || record.venueId === filter.venueId) &&
  (filter.phase === null || record.phase === filter.phase);

/** The trace of one item over the records asked for, oldest first. Stale and missing values are left out. */
export const seasonOf = (
  records: readonly SeasonRecord[],
  item: string,
  filter: SeasonFilter,
): readonly SeasonPoint[] =>
  records
    .filter(({ sources }) => isAsked(sources.record, filter))
    .flatMap(({ sources, sheet, venueName }): SeasonPoint[] => {
      const { record } = sources;
      const value = itemValue(item, sources);
      if (value.is === 'missing' || value.stale) return [];
      return [
        {
          recordId: record.id,
          carId: record.carId,
          at: record.begunAt,
          phase: record.phase,
          venueName,
          value: value.value,
          isLowerBound: value.unknown.length > 0,
          target: sheet ? targetOf(sheet, item) : null,
          isRelease: sheet?.released?.recordId === record.id,
        },
      ];
    })
    .toSorted((a, b) => a.at - b.at);
