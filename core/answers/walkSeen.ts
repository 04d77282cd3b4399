import { CORNER_NAMES } from '../corners.ts';
import { walkOfRecord } from '../sheet/askedItems.ts';
import type { Car } from '../sheet/car.ts';
import { timeToSheet, type CarRecord, type Work } from '../sheet/carRecord.ts';
import { markOf } from '../sheet/itemMark.ts';
import type { Item } from '../sheet/items.ts';
import type { ValueSources } from '../sheet/itemValue.ts';
import { walkProgress } from '../sheet/nextInWalk.ts';
import type { SetUpSheet } from '../sheet/setUpSheet.ts';
import { staleItems } from '../sheet/stale.ts';
import type { Answer } from './answer.ts';
import { measureAnswer, type Weighing } from './measureAnswer.ts';

/** What a walk is seen from. */
export interface WalkOf {
  readonly car: Car;
  /** Versions of the sheets of this car, in the order in which they were first kept. */
  readonly sheets: readonly SetUpSheet[];
  /** The record that is open, with its entries; null before there is one. */
  readonly record: CarRecord | null;
  /** The sheet of that record. */
  readonly sheet: SetUpSheet | null;
  readonly sources: ValueSources | null;
}

/** How far the open record is. */
export interface WalkSeen {
  /** What is typed, in walking order; empty without a record. */
  readonly walk: readonly Item[];
  readonly stale: ReadonlyMap<string, Work>;
  readonly weighing: Weighing;
  readonly next: Item | null;
  /** To "What does the car measure?" */
  readonly answer: Answer;
}

const weighingOf = ({ record, sheet, sources }: WalkOf, isStale: boolean): Weighing => {
  const isAsked =
    sheet?.lines.some(({ item }) => sources?.items.get(item)?.from === 'pads') ?? false;
  const isWeighed =
    record?.entries.some((entry) => entry.is === 'capture' && !entry.setAside) ?? false;
  if (isWeighed) return isStale ? 'stale' : 'done';
  return isAsked ? 'to do' : 'not asked';
};

/** How far a record is, and what comes next. */
export const walkSeen = (of: WalkOf): WalkSeen => {
  const { car, sheets, record, sheet, sources } = of;
  const items = sources ? [...sources.items.values()] : [];
  const walk = record ? walkOfRecord(items, { record, sheet }) : [];
  const stale: ReadonlyMap<string, Work> =
    record && sources ? staleItems(record, items, sources.ties) : new Map<string, Work>();
  const weighing = weighingOf(of, stale.has('weight.LF'));
  const progress = record ? walkProgress(record, walk, null) : null;
  const work = [...stale.values()].at(-1);
  const newest = sheets.at(-1) ?? null;
  const answer = measureAnswer({
    carName: car.name,
    sheetName: newest && `${newest.name} no. ${newest.number}`,
    record:
      record && progress
        ? {
            phase: record.phase,
            done: progress.done,
            of: progress.of,
            next: progress.next?.label ?? null,
            weighing,
            stale: stale.size,
            disturbedBy: work
              ? [work.corner ? CORNER_NAMES[work.corner] : (work.axle ?? ''), work.what]
                  .filter(Boolean)
                  .join(' ')
              : null,
            questioned: walk.filter((item) => markOf(record, item) === 'questioned').length,
            seconds: timeToSheet(record)?.seconds ?? null,
          }
        : null,
  });
  return { walk, stale, weighing, next: progress?.next ?? null, answer };
};
