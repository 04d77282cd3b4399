import { useMemo } from 'react';
import { walkOfRecord } from '../../../core/sheet/askedItems.ts';
import { CORNER_NAMES } from '../../../core/corners.ts';
import type { Item } from '../../../core/sheet/items.ts';
import { markOf } from '../../../core/sheet/itemMark.ts';
import { walkProgress } from '../../../core/sheet/nextInWalk.ts';
import { staleItems } from '../../../core/sheet/stale.ts';
import { timeToSheet, type Work } from '../../../core/sheet/carRecord.ts';
import { workInWords } from '../../../core/sheet/workInWords.ts';
import {
  measureAnswer,
  type MeasureSeen,
  type Weighing,
} from '../../../core/answers/measureAnswer.ts';
import type { Answer } from '../../../core/answers/answer.ts';
import type { Measure } from './useMeasure.ts';

/** How far the open record is. */
export interface WalkSeen {
  /** What is typed, in walking order; empty without a record. */
  readonly walk: readonly Item[];
  readonly stale: ReadonlyMap<string, Work>;
  readonly weighing: Weighing;
  readonly next: Item | null;
  readonly answer: Answer;
}

const weighingOf = ({ record, sheet, sources }: Measure, stale: boolean): Weighing => {
  const isAsked =
    sheet?.lines.some(({ item }) => sources?.items.get(item)?.from === 'pads') ?? false;
  const isWeighed =
    record?.entries.some((entry) => entry.is === 'capture' && !entry.setAside) ?? false;
  if (isWeighed) return stale ? 'stale' : 'done';
  return isAsked ? 'to do' : 'not asked';
};

/** Place of a piece of work in words: "right front height adjuster". */
export const workWords = (work: Work, { car }: Measure): string =>
  workInWords(
    work,
    (part) => car.details?.ballastPlaces.find(({ id }) => id === part)?.name ?? part,
  );

export const useWalk = (measure: Measure): WalkSeen =>
  useMemo(() => {
    const { record, sheet, sources, sheets, car } = measure;
    const items = sources ? [...sources.items.values()] : [];
    const walk = record ? walkOfRecord(items, { record, sheet }) : [];
    const stale = record && sources ? staleItems(record, items, sources.ties) : new Map();
    const weighing = weighingOf(measure, stale.has(`weight.LF`));
    const progress = record ? walkProgress(record, walk, null) : null;
    const work = [...stale.values()].at(-1) as Work | undefined;
    const newest = sheets.at(-1) ?? null;
    const seen: MeasureSeen = {
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
    };
    return { walk, stale, weighing, next: progress?.next ?? null, answer: measureAnswer(seen) };
  }, [measure]);
