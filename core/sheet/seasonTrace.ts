import { DAY_MS } from '../format/civilTime.ts';
import type { SeasonPoint, TheirReading } from '../contract/season.ts';

/** What lies on the trace of an item: a value of ours, or what scrutineers read. */
export type TraceEntry =
  | { readonly is: 'ours'; readonly at: number; readonly point: SeasonPoint }
  | { readonly is: 'theirs'; readonly at: number; readonly reading: TheirReading };

/**
 * Ours and theirs in order of time. A reading of theirs names neither venue nor phase: where only some
 * records are asked for, those within a day of one of them stay. Undated ones have no place in it.
 */
export const seasonTrace = (
  points: readonly SeasonPoint[],
  theirs: readonly TheirReading[],
  isWhole: boolean,
): readonly TraceEntry[] =>
  [
    ...points.map((point): TraceEntry => ({ is: 'ours', at: point.at, point })),
    ...theirs.flatMap((reading): TraceEntry[] => {
      const { at } = reading;
      if (at === null) return [];
      const belongs = isWhole || points.some((point) => Math.abs(point.at - at) <= DAY_MS);
      return belongs ? [{ is: 'theirs', at, reading }] : [];
    }),
  ].toSorted((a, b) => a.at - b.at);
