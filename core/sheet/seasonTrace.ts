import type { SeasonPoint, TheirReading } from '../contract/season.ts';
import { DAY_MS } from '../format/civilTime.ts';

/** What lies on the trace of an item: a value of ours, or what scrutineers read. */
export type TraceEntry =
  | { readonly is: 'ours'; readonly at: number; readonly point: SeasonPoint }
  | { readonly is: 'theirs'; readonly at: number; readonly reading: TheirReading };

/**
 * Ours and theirs in order of time; a day of theirs stands for its last moment: they read after ours. A reading of theirs names neither venue nor phase: where only some
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
      if (reading.day === null) return [];
      const at = (reading.day + 1) * DAY_MS - 1;
      const belongs = isWhole || points.some((point) => Math.abs(point.at - at) <= DAY_MS);
      return belongs ? [{ is: 'theirs', at, reading }] : [];
    }),
  ].toSorted((a, b) => a.at - b.at);
