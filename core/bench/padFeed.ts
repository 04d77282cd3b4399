import { nominalCalibration, toForce, type Calibration } from '../calibration/calibration.ts';
import { LIVE_FOR, SAMPLE_FLAGS, type PadSample, type StreamGap } from '../reading.ts';
import { createRing, type Ring } from '../ring.ts';
import type { PadStatus } from './ports.ts';
import type { ZeroRecord } from './storePort.ts';

/**
 * One pad's stream inside the bench: the last half minute in a fixed ring, in counts, so that a new
 * zero or calibration applies to what is already there.
 */

/** Samples kept: 27 s at 80 Hz, over the twenty that a screen draws. */
const KEPT = 2200;

export type FeedColumn = 'raw' | 'clean' | 'smooth' | 'flags';

export interface PadFeed {
  readonly serial: string;
  readonly ring: Ring<FeedColumn>;
  status: PadStatus | null;
  zero: ZeroRecord | null;
  /** Null while nothing says what a count is worth. */
  calibration: Calibration | null;
  /** Time of the newest sample; null before the first. */
  lastAt: number | null;
  lastSmooth: number;
  lastFlags: number;
}

/** Makes an empty feed for the pad of that serial number; null is what it has not been given. */
export const createPadFeed = (
  serial: string,
  has: { readonly zero: ZeroRecord | null; readonly calibration: Calibration | null },
): PadFeed => ({
  serial,
  ring: createRing({ capacity: KEPT, columns: ['raw', 'clean', 'smooth', 'flags'] }),
  status: null,
  ...has,
  lastAt: null,
  lastSmooth: Number.NaN,
  lastFlags: 0,
});

/**
 * Adds samples, oldest first, that came in by host time `now`. While a pad's clock is being placed
 * anew its samples may be mapped ahead of the host's: heard they were not later than now.
 */
export const feedSamples = (feed: PadFeed, samples: readonly PadSample[], now: number): void => {
  for (const sample of samples) {
    feed.ring.push(sample);
    feed.lastAt = Math.min(sample.t, now);
    feed.lastSmooth = sample.smooth;
    feed.lastFlags = sample.flags;
  }
};

/** Gives it the zero and the calibration it is used with; null for the maker's rating. */
export const feedGiven = (
  feed: PadFeed,
  { zero, calibration }: Pick<PadFeed, 'zero' | 'calibration'>,
): void => {
  const rating = feed.status?.rating ?? null;
  feed.zero = zero;
  feed.calibration = calibration ?? (rating ? nominalCalibration(rating) : null);
};

/** The host slept until `now`, its clock with it: what was heard before is so much older. */
export const feedSlept = (feed: PadFeed, seconds: number, now: number): void => {
  if (feed.lastAt === null) return;
  feed.lastAt = Math.min(feed.lastAt, now) - seconds;
  feed.ring.pushHole(now);
};

/** Adds a hole. */
export const feedGap = (feed: PadFeed, gap: StreamGap): void => feed.ring.pushHole(gap.from);

/** Takes a new status; the pad's own rating is its calibration until it has a better one. */
export const feedStatus = (feed: PadFeed, status: PadStatus): void => {
  feed.status = status;
  if (!feed.calibration && status.rating) feed.calibration = nominalCalibration(status.rating);
};

/** Force of a count on this pad, N; null while nothing says what a count is worth, or for a hole. */
export const feedForce = (feed: PadFeed, counts: number): number | null =>
  feed.calibration && Number.isFinite(counts)
    ? toForce(feed.calibration, feed.zero?.counts ?? 0, counts)
    : null;

/** True while the newest sample is no measurement: over the rated load or at the converter's end. */
export const isOverloaded = (feed: PadFeed): boolean =>
  (feed.lastFlags & (SAMPLE_FLAGS.overload | SAMPLE_FLAGS.saturated)) !== 0;

/** True while the pad was heard within the last half second and its counts have a worth. */
export const isLive = (feed: PadFeed, t: number): boolean =>
  feed.calibration !== null && feed.lastAt !== null && t - feed.lastAt <= LIVE_FOR;
