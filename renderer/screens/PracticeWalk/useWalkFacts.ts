import { useMemo } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import type { WalkFacts, WalkPlace } from '../../../core/practiceWalk/walkFacts.ts';
import type { WalkKept } from '../../../core/practiceWalk/walkStanding.ts';
import { recordsKept, sheetsKept } from '../../../core/sheet/keptRecords.ts';
import { useKept } from '../../live/useKept.ts';
import { useFrame } from '../../live/useLive.tsx';

/** What the steps of the walk are judged by; null until it was read. */
export const useWalkFacts = (
  state: BenchState,
  { begunAt, stepBegunAt, walk }: WalkKept,
  place: WalkPlace | null,
): WalkFacts | null => {
  const surveys = useKept('patch survey');
  const adjustments = useKept('adjustment');
  const sheets = useKept('sheet');
  const heads = useKept('car record');
  const entries = useKept('record entry');
  const authorities = useKept('authority');
  const pairs = useKept('pair');
  const isSettled = useFrame((frame) => frame?.stillness === 'settled');
  const { runsBefore } = walk;
  return useMemo(
    () =>
      surveys && adjustments && sheets && heads && entries && authorities && pairs
        ? {
            state,
            isSettled,
            place,
            begunAt,
            stepBegunAt,
            runsBefore,
            surveys,
            adjustments,
            sheets: sheetsKept(sheets),
            records: recordsKept(heads, entries),
            authorities,
            pairs,
          }
        : null,
    [
      state,
      isSettled,
      place,
      begunAt,
      stepBegunAt,
      runsBefore,
      surveys,
      adjustments,
      sheets,
      heads,
      entries,
      authorities,
      pairs,
    ],
  );
};
