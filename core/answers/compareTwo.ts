import type { KeptOf } from '../contract/kept.ts';
import type { Settings } from '../contract/settings.ts';
import { callsKept } from '../sheet/callsKept.ts';
import type { Car } from '../sheet/car.ts';
import type { CarRecord } from '../sheet/carRecord.ts';
import { compareRecords, type RecordComparison } from '../sheet/compareRecords.ts';
import { compareTarget } from '../sheet/compareTarget.ts';
import type { ValueSources } from '../sheet/itemValue.ts';
import type { StudiedScatter } from '../sheet/loweringsKept.ts';
import type { SetUpSheet } from '../sheet/setUpSheet.ts';
import type { Answer } from './answer.ts';

/** While there are no two records. */
const TOO_FEW: Answer = {
  about: 'too few',
  text: 'Two records of this car are needed: measure it before a run, and again after.',
  tone: 'wait',
};

/** Records of a car that can be compared, the newest first. */
export const comparableRecords = (
  records: readonly CarRecord[],
  carId: string,
): readonly CarRecord[] =>
  records.filter((record) => record.carId === carId && !record.setAside).toReversed();

export interface RecordPair {
  readonly before: CarRecord | null;
  readonly after: CarRecord | null;
}

/** The two that were chosen; where nobody chose, the newest and the newest other one. */
export const pairOf = (
  own: readonly CarRecord[],
  chosen: { readonly beforeId: string | null; readonly afterId: string | null },
): RecordPair => {
  const after = own.find(({ id }) => id === chosen.afterId) ?? own[0] ?? null;
  const before =
    own.find(({ id }) => id === chosen.beforeId) ?? own.find(({ id }) => id !== after?.id) ?? null;
  return { before, after };
};

/** What is kept and a comparison is made from. */
export interface CompareFrom {
  readonly car: Car;
  readonly gravity: number;
  readonly settings: Pick<Settings, 'zeroShiftLimit' | 'cornerLabels' | 'massUnit'>;
  readonly records: readonly CarRecord[];
  readonly sheets: readonly SetUpSheet[];
  /** Null for a record of a car that is not known. */
  readonly sourcesOf: (record: CarRecord) => ValueSources | null;
  readonly scatter: StudiedScatter;
  readonly adjustments: readonly KeptOf<'adjustment'>[];
  readonly surveys: readonly KeptOf<'patch survey'>[];
  readonly massChecks: readonly KeptOf<'mass check'>[];
}

/** Compares two records of the car in hand; null while there are no two. */
export const compareTwo = (
  from: CompareFrom,
  { before, after }: RecordPair,
): RecordComparison | null => {
  if (!before || !after || before.id === after.id) return null;
  const [was, is] = [from.sourcesOf(before), from.sourcesOf(after)];
  if (!was || !is) return null;
  const { car, gravity, settings, records, sheets, scatter } = from;
  return compareRecords({
    car,
    before: was,
    after: is,
    sheet: sheets.find(({ id }) => id === (after.sheetId ?? before.sheetId)) ?? null,
    ...scatter,
    gravity,
    records,
    adjusted: callsKept(from.adjustments, car.id),
    checks: {
      surveys: from.surveys,
      massChecks: from.massChecks,
      zeroShiftLimit: settings.zeroShiftLimit,
    },
    wording: { labels: settings.cornerLabels, massUnit: settings.massUnit },
  });
};

/** A record against what a sheet wants; null for one of a car that is not known. */
export const compareWanted = (
  { car, gravity, scatter, sourcesOf }: CompareFrom,
  { sheet, after }: { readonly sheet: SetUpSheet; readonly after: CarRecord },
): RecordComparison | null => {
  const sources = sourcesOf(after);
  return sources && compareTarget({ car, gravity, sheet, after: sources, repeat: scatter.repeat });
};

/** To "Has it changed?" */
export const comparedAnswer = (found: RecordComparison | null): Answer => found?.answer ?? TOO_FEW;
