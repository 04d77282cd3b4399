import type { Calibration } from '../calibration/calibration.ts';
import { nominalCalibration, toForce } from '../calibration/calibration.ts';
import { SAMPLE_FLAGS, type PadSample } from '../reading.ts';
import type { PadStatus } from './ports.ts';
import type { ZeroRecord } from './storePort.ts';

/**
 * One pad's stream inside the bench: the last half minute of samples in fixed rings, in counts, so
 * that a new zero or calibration applies to what is already there. Readers keep a cursor and ask for
 * what is new; nothing here grows.
 */

/** Samples kept: over 25 s at 80 Hz; a power of two so that positions wrap by a mask. */
const LENGTH = 2048;

/** A time of NaN in the ring is a hole: nothing is known there. */
const HOLE = Number.NaN;

export interface PadFeed {
  readonly serial: string;
  status: PadStatus | null;
  zero: ZeroRecord | null;
  calibration: Calibration | null;
  /** Samples and holes ever taken: the position the next one gets. */
  written: number;
  /** Time of the newest sample; null before the first. */
  lastAt: number | null;
  lastFlags: number;
  readonly t: Float64Array;
  readonly raw: Float64Array;
  readonly clean: Float64Array;
  readonly smooth: Float64Array;
  readonly flags: Uint8Array;
}

/** Makes an empty feed for the pad of that serial number. */
export const createPadFeed = (serial: string): PadFeed => ({
  serial,
  status: null,
  zero: null,
  calibration: null,
  written: 0,
  lastAt: null,
  lastFlags: 0,
  t: new Float64Array(LENGTH).fill(HOLE),
  raw: new Float64Array(LENGTH),
  clean: new Float64Array(LENGTH),
  smooth: new Float64Array(LENGTH),
  flags: new Uint8Array(LENGTH),
});

const slot = (position: number): number => position & (LENGTH - 1);

/** Adds samples, oldest first. */
export const feedSamples = (feed: PadFeed, samples: readonly PadSample[]): void => {
  for (const sample of samples) {
    const at = slot(feed.written++);
    feed.t[at] = sample.t;
    feed.raw[at] = sample.raw;
    feed.clean[at] = sample.clean;
    feed.smooth[at] = sample.smooth;
    feed.flags[at] = sample.flags;
    feed.lastAt = sample.t;
    feed.lastFlags = sample.flags;
  }
};

/** Adds a hole. */
export const feedHole = (feed: PadFeed): void => {
  feed.t[slot(feed.written++)] = HOLE;
};

/** Takes a new status; the pad's own rating is its calibration until it has a better one. */
export const feedStatus = (feed: PadFeed, status: PadStatus): void => {
  feed.status = status;
  if (!feed.calibration && status.rating) feed.calibration = nominalCalibration(status.rating);
};

/** Force of a count on this pad, N; null while nothing says what a count is worth. */
export const feedForce = (feed: PadFeed, counts: number): number | null =>
  feed.calibration ? toForce(feed.calibration, feed.zero?.counts ?? 0, counts) : null;

export const isOverloaded = (feed: PadFeed): boolean =>
  (feed.lastFlags & (SAMPLE_FLAGS.overload | SAMPLE_FLAGS.saturated)) !== 0;

/**
 * Visits the samples from a position on, oldest first, at most as many as are kept. `hole` is called
 * where the stream has one, and once where the reader was lapped. Returns the position to go on from.
 */
export const visitSince = (
  feed: PadFeed,
  position: number,
  visit: (t: number, at: number) => void,
  hole: () => void,
): number => {
  const oldest = Math.max(0, feed.written - LENGTH);
  if (position < oldest && position > 0) hole();
  for (let next = Math.max(position, oldest); next < feed.written; next++) {
    const at = slot(next);
    const t = feed.t[at] as number;
    if (Number.isNaN(t)) hole();
    else visit(t, at);
  }
  return feed.written;
};

/** Samples of a window of time, holes left out: times with the counts as sent and as cleaned. */
export interface FeedWindow {
  readonly t: number[];
  readonly raw: number[];
  readonly clean: number[];
  readonly flags: number[];
}

/** The samples with from ≤ t ≤ to. */
export const windowOf = (feed: PadFeed, from: number, to: number): FeedWindow => {
  const window: FeedWindow = { t: [], raw: [], clean: [], flags: [] };
  visitSince(
    feed,
    0,
    (t, at) => {
      if (t < from || t > to) return;
      window.t.push(t);
      window.raw.push(feed.raw[at] as number);
      window.clean.push(feed.clean[at] as number);
      window.flags.push(feed.flags[at] as number);
    },
    () => {},
  );
  return window;
};
