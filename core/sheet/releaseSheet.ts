import { BACK_TO_RUNNING, type RunningAnswer, type RunningItem } from './backToRunning.ts';
import type { CarRecord } from './carRecord.ts';
import { itemValue, type ValueSources } from './itemValue.ts';
import type { AsBuilt, SetUpSheet } from './setUpSheet.ts';

export type Released =
  | {
      readonly ok: true;
      readonly sheet: SetUpSheet;
      /** Items with a target of which the record has no value: said, and no hindrance. */
      readonly notMeasured: readonly string[];
    }
  | { readonly ok: false; readonly why: string };

/** What is known of the answers to the back-to-running list so far. */
export type RunningAnswers = Readonly<Partial<Record<RunningItem, RunningAnswer>>>;

/** The items of the back-to-running list that nobody has answered yet, in its order. */
export const notAnswered = (answers: RunningAnswers): readonly RunningItem[] =>
  BACK_TO_RUNNING.filter((item) => answers[item] === undefined);

const refused = (why: string): Released => ({ ok: false, why });

const asBuiltOf = (sheet: SetUpSheet, sources: ValueSources): readonly AsBuilt[] =>
  sheet.lines.flatMap(({ item }): AsBuilt[] => {
    const value = itemValue(item, sources);
    if (value.is === 'missing') return [];
    return [{ item, value: { ...value.value }, unknown: [...value.unknown], stale: value.stale }];
  });

const hindrance = (
  sheet: SetUpSheet,
  record: CarRecord,
  answers: RunningAnswers,
): string | null => {
  if (sheet.released)
    return 'This sheet is released already and is not changed any more: copy it to the next number.';
  if (record.carId !== sheet.carId) return 'The record is of another car than the sheet.';
  if (record.sheetId !== sheet.id)
    return 'The record was not made to this sheet: measure the car to it, or release the other one.';
  const open = notAnswered(answers);
  if (open.length > 0)
    return `Before the car rolls: ${open.join(', ')}. Tick each, or say that it is not on this car.`;
  return null;
};

/**
 * Releases a sheet: the as-built values of its items from a record made to it, the back-to-running list
 * answered in full, and a time, after which this version is not changed any more. Refused with what to
 * do; values that are missing or stale are kept as they are and said.
 */
export const releaseSheet = (
  sheet: SetUpSheet,
  about: {
    readonly sources: ValueSources;
    readonly answers: RunningAnswers;
    /** Wall-clock label, ms. */
    readonly at: number;
    readonly who: string;
  },
): Released => {
  const { sources, answers, at, who } = about;
  const why = hindrance(sheet, sources.record, answers);
  if (why !== null) return refused(why);
  const asBuilt = asBuiltOf(sheet, sources);
  const built = new Set(asBuilt.map(({ item }) => item));
  return {
    ok: true,
    sheet: {
      ...sheet,
      released: {
        at,
        who,
        recordId: sources.record.id,
        asBuilt: [...asBuilt],
        backToRunning: BACK_TO_RUNNING.flatMap((item) => {
          const answer = answers[item];
          return answer === undefined ? [] : [{ item, answer }];
        }),
      },
    },
    notMeasured: sheet.lines
      .filter(({ item, target }) => target !== null && !built.has(item))
      .map(({ item }) => item),
  };
};
