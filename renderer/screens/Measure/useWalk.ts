import { useMemo } from 'react';
import { walkSeen, type WalkSeen } from '../../../core/answers/walkSeen.ts';
import type { Work } from '../../../core/sheet/carRecord.ts';
import { workInWords } from '../../../core/sheet/workInWords.ts';
import type { Measure } from './useMeasure.ts';

/** Place of a piece of work in words: "right front height adjuster". */
export const workWords = (work: Work, { car }: Measure): string =>
  workInWords(
    work,
    (part) => car.details?.ballastPlaces.find(({ id }) => id === part)?.name ?? part,
  );

/** How far the open record is. */
export const useWalk = (measure: Measure): WalkSeen => useMemo(() => walkSeen(measure), [measure]);
