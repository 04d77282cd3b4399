import {
  adjustmentNow,
  frictionOf,
  isCarRaised,
  lastReading,
  stepOf,
} from '../adjust/adjustment.ts';
import type { Adjuster } from '../adjust/adjuster.ts';
import type { Call } from '../adjust/call.ts';
import { callProgress, watchCall, type WatchedCall } from '../adjust/progress.ts';
import type { AdjustReading } from '../adjust/reading.ts';
import { loadsNow } from '../adjust/settledReading.ts';
import type { Frame } from '../contract/events.ts';
import type { GuestCall } from '../contract/guestView.ts';
import type { KeptOf } from '../contract/kept.ts';
import { guestCall } from './guestView.ts';
import type { KeptBook } from './keptBook.ts';
import type { Memory } from './memory.ts';

interface AtWork {
  readonly call: Call;
  readonly adjuster: Adjuster;
  readonly before: AdjustReading;
  /** Null while the car is up or its data do not tell: then the loads say nothing. */
  readonly watched: WatchedCall | null;
}

/**
 * The call at work with its progress in a frame, from the newest adjustment of the car that is not
 * over; null while nothing is to be turned. The response is learnt anew only when the record is another.
 */
export const createCallUnderWay = (of: {
  readonly book: Pick<KeptBook, 'newest'>;
  readonly memory: Pick<Memory, 'car'>;
}): ((frame: Frame) => GuestCall | null) => {
  let known: KeptOf<'adjustment'> | null = null;
  let work: AtWork | null = null;

  const atWork = ({ adjustment }: KeptOf<'adjustment'>): AtWork | null => {
    const step = stepOf(adjustment);
    if (adjustment.isOver || step?.do !== 'turn') return null;
    const now = adjustmentNow(of.memory.car, adjustment);
    if (!now.ok) return null;
    const { call } = step;
    const before = lastReading(adjustment);
    const adjuster = now.adjusters[call.corner];
    if (!adjuster) return null;
    const watched = watchCall({
      call,
      adjuster,
      response: now.response,
      before,
      friction: frictionOf(adjustment),
    });
    const isFollowed = 'call' in watched && !isCarRaised(adjustment);
    return { call, adjuster, before, watched: isFollowed ? watched : null };
  };

  return (frame) => {
    const newest =
      of.book
        .newest('adjustment')
        .findLast(({ adjustment }) => adjustment.carId === of.memory.car.id) ?? null;
    if (newest !== known) {
      known = newest;
      work = newest && atWork(newest);
    }
    if (!work) return null;
    const { call, adjuster, before, watched } = work;
    const progress = watched && callProgress(watched, loadsNow(frame, before));
    return guestCall(call, adjuster, progress?.ok ? progress : null);
  };
};
