import { useEffect, useMemo, useState } from 'react';
import { adjustmentNow, type AdjustmentNow } from '../../../core/adjust/adjustment.ts';
import type { AdjustRefusal } from '../../../core/adjust/refusal.ts';
import { lastAdjustment } from '../../../core/answers/adjustStanding.ts';
import type { Adjustment } from '../../../core/contract/adjustment.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import type { KeptOf } from '../../../core/contract/kept.ts';
import { newId } from '../../newId.ts';
import { keepCommand } from '../../parts/keepCommand.ts';
import { useCommand, type CommandNote } from '../../parts/useCommand.ts';

/** The adjustment at work on this car, what follows from it, and how it is kept. */
export interface Adjusting {
  readonly adjustment: Adjustment | null;
  readonly now: AdjustmentNow | AdjustRefusal | null;
  /** What the last adjustment of this car had taught, for the next one. */
  readonly lastLearnt: Adjustment['learnt'];
  readonly note: CommandNote | null;
  /** Keeps a new telling of the adjustment at work, or begins one. */
  readonly keep: (next: Adjustment) => void;
}

interface Held {
  readonly subject: string;
  readonly adjustment: Adjustment;
}

export const useAdjustment = (
  state: BenchState,
  kept: readonly KeptOf<'adjustment'>[],
): Adjusting => {
  const { note, give } = useCommand();
  /** What was told and has not come back from the store yet. */
  const [told, setTold] = useState<Held | null>(null);
  useEffect(() => setTold(null), [kept]);
  const { car } = state;
  const held: Held | null = told?.adjustment.carId === car.id ? told : lastAdjustment(kept, car.id);
  const adjustment = held && !held.adjustment.isOver ? held.adjustment : null;
  const now = useMemo(() => adjustment && adjustmentNow(car, adjustment), [car, adjustment]);
  return {
    adjustment,
    now,
    lastLearnt: held?.adjustment.learnt ?? held?.adjustment.prior ?? null,
    note,
    keep: (next) => {
      const subject = held && adjustment ? held.subject : newId();
      setTold({ subject, adjustment: next });
      void give(keepCommand({ kind: 'adjustment', subject, adjustment: next })).then((done) => {
        if (!done) setTold(null);
      });
    },
  };
};
