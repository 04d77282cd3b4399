import { fixed, HARD_SPACE } from '../format/number.ts';
import type { Phase } from '../contract/records.ts';
import type { Answer } from './answer.ts';

/** Whether the corner weights belong to the record, and whether they are in it. */
export type Weighing = 'not asked' | 'to do' | 'done' | 'stale';

/** How far the measuring has come: what the answer is made of. */
export interface MeasureSeen {
  readonly carName: string;
  /** The sheet that a record would be begun with: "Base set-up no. 2"; null where the car has none. */
  readonly sheetName: string | null;
  /** Null before a record was begun. */
  readonly record: {
    readonly phase: Phase;
    /** Typed items that are done, and all of them. */
    readonly done: number;
    readonly of: number;
    /** In words: "right rear camber"; null when the walk is done. */
    readonly next: string | null;
    readonly weighing: Weighing;
    /** Items that were measured and then disturbed, the weights among them. */
    readonly stale: number;
    /** The last work that did it, in words; null where none did. */
    readonly disturbedBy: string | null;
    /** Readings that were questioned and not repeated. */
    readonly questioned: number;
    /** From car in to sheet ready, s; null until both are there. */
    readonly seconds: number | null;
  } | null;
}

const readings = (count: number): string => (count === 1 ? '1 reading' : `${count} readings`);

const durationInWords = (seconds: number): string => {
  const whole = Math.round(seconds);
  const minutes = Math.floor(whole / 60);
  const rest = `${fixed(whole % 60, 0)}${HARD_SPACE}s`;
  return minutes === 0 ? rest : `${fixed(minutes, 0)}${HARD_SPACE}min ${rest}`;
};

/** What comes after a record of each phase. */
const AFTER: Readonly<Record<Phase, string>> = {
  'set-up': 'Release the sheet.',
  'set-down': 'Compare it with the set-up.',
  check: 'Compare it with the record before.',
};

const notBegun = ({ carName, sheetName }: MeasureSeen): Answer =>
  sheetName === null
    ? {
        about: 'no sheet',
        text: `Nothing is measured of ${carName} and it has no sheet. Write one, or begin without.`,
        tone: 'wait',
      }
    : {
        about: 'no record',
        text: `Nothing is measured of ${carName}. Begin a record with ${sheetName}.`,
        tone: 'wait',
      };

/** What does the car measure? How far the walk is, what comes next, and what does not hold any more. */
export const measureAnswer = (seen: MeasureSeen): Answer => {
  const { record } = seen;
  if (!record) return notBegun(seen);
  const isWeighed = record.weighing === 'not asked' || record.weighing === 'done';
  const steps = record.weighing === 'not asked' ? 0 : 1;
  const of = record.of + steps;
  const done = record.done + (record.weighing === 'done' ? 1 : 0);
  if (of === 0)
    return {
      about: 'nothing asked',
      text: 'Nothing is asked for: put items on the sheet or into the walk.',
      tone: 'wait',
    };
  const stale =
    record.stale === 0
      ? ''
      : ` ${record.stale} stale${record.disturbedBy === null ? '' : ` since ${record.disturbedBy}`}.`;
  const next = record.next ?? (isWeighed ? null : 'weigh the car');
  if (next !== null)
    return {
      about: `next ${next}`,
      text: `${done} of ${of} done.${stale} Next: ${next}.`,
      tone: 'wait',
    };
  const time = record.seconds === null ? '' : ` in ${durationInWords(record.seconds)}`;
  const questioned =
    record.questioned === 0 ? '' : ` ${readings(record.questioned)} questioned and not repeated.`;
  return {
    about: 'all done',
    text: `All ${of} done${time}.${stale}${questioned} ${AFTER[record.phase]}`,
    tone: record.stale > 0 || record.questioned > 0 ? 'wait' : 'calm',
  };
};
