import { useMemo } from 'react';
import type { PracticeWalk } from '../../../core/contract/practiceWalk.ts';
import { newestWalk, type WalkKept } from '../../../core/practiceWalk/walkStanding.ts';
import { useKept } from '../../live/useKept.ts';
import { useClient } from '../../live/useLive.tsx';
import { newId } from '../../newId.ts';
import { keepCommand } from '../../parts/keepCommand.ts';

export interface PracticeWalking {
  /** Null where nobody has walked here yet. */
  readonly kept: WalkKept | null;
  /** The practice car has been out so often by now. */
  readonly begin: (runsBefore: number) => void;
  /** Goes on with the newest walk as it stands now. */
  readonly tell: (walk: PracticeWalk) => void;
}

/** The walk through the practice, and how it is gone on with; null until it was read. */
export const usePracticeWalk = (): PracticeWalking | null => {
  const client = useClient();
  const records = useKept('practice walk');
  const kept = useMemo(() => newestWalk(records ?? []), [records]);
  if (records === null) return null;
  const keep = (subject: string, walk: PracticeWalk): Promise<unknown> =>
    client.command(keepCommand({ kind: 'practice walk', subject, walk }));
  return {
    kept,
    begin: (runsBefore) => void keep(newId(), { steps: [], isLeft: false, runsBefore }),
    tell: (walk) => {
      if (kept) void keep(kept.id, walk);
    },
  };
};
