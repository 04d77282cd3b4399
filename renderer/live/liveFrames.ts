import type { Frame } from '../../core/contract/events.ts';
import { CORNERS, perCorner, type Corner, type PerCorner } from '../../core/corners.ts';
import { LIVE_FOR } from '../../core/reading.ts';
import { ageFrame } from './ageFrame.ts';
import { createStore, type Store } from './store.ts';
import { createTraceRing, type TraceRing } from './traceRing.ts';

/** 25 s at the 320 Hz of the fastest load, or 100 s at 80 Hz. */
const RING_CAPACITY = 8192;
/** A host clock that goes back by more than this is another process: nothing older compares. */
const CLOCK_BACK = 1;
/** How often the age of silent corners moves on, s. */
const AGE_STEP = 0.1;

/** The live readings: the newest frame as it may be shown now, and the trace of each corner. */
export interface LiveFrames extends Store<Frame | null> {
  readonly rings: PerCorner<TraceRing>;
  /** Trace of the pad that is looked at by itself. */
  readonly onePad: TraceRing;
  /** The host's monotonic time now, s, as far as the newest frame tells; null before the first. */
  hostNow(): number | null;
  /** Takes a frame as it arrives. */
  take(frame: Frame): void;
  /** Judges ages; called before each paint and when the link breaks. */
  judge(): void;
  /** Forgets the trace of a corner: another pad stands there now. */
  forget(corner: Corner): void;
  /** While the link is down nothing is live. */
  setJoined(joined: boolean): void;
}

/** Makes the live readings, empty. `now` is the window's monotonic clock, s. */
export const createLiveFrames = (now: () => number): LiveFrames => {
  const shown = createStore<Frame | null>(null);
  const rings = perCorner(() => createTraceRing(RING_CAPACITY));
  const onePad = createTraceRing(RING_CAPACITY);
  let onePadSerial: string | null = null;
  let newest: Frame | null = null;
  let receivedAt = 0;
  let judgedAge = 0;
  let joined = true;

  const judge = (): void => {
    if (!newest) return;
    const silent = now() - receivedAt;
    const age = joined ? silent : silent + LIVE_FOR;
    if (age < LIVE_FOR / 2) return;
    if (Math.abs(age - judgedAge) < AGE_STEP) return;
    judgedAge = age;
    shown.set(ageFrame(newest, age));
  };

  return {
    get: shown.get,
    subscribe: shown.subscribe,
    rings,
    onePad,
    hostNow: () => (newest ? newest.t + (now() - receivedAt) : null),
    judge,
    forget: (corner) => rings[corner].clear(),
    setJoined: (next) => {
      joined = next;
      judge();
    },
    take: (frame) => {
      if (newest && frame.t < newest.t - CLOCK_BACK)
        for (const corner of CORNERS) rings[corner].clear();
      newest = frame;
      receivedAt = now();
      judgedAge = 0;
      joined = true;
      for (const corner of CORNERS) {
        const { t, kg, zeroed } = frame.corners[corner];
        // Without a zero a load is not a weight: a hole, not a number with an unknown offset.
        for (const [index, time] of t.entries())
          rings[corner].append(time, zeroed ? (kg[index] ?? null) : null);
      }
      const one = frame.onePad;
      if ((one?.serial ?? null) !== onePadSerial) onePad.clear();
      onePadSerial = one?.serial ?? null;
      for (const [index, time] of (one?.t ?? []).entries())
        onePad.append(time, one?.kg[index] ?? null);
      shown.set(frame);
    },
  };
};
