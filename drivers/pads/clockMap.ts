import { lowerLine, type Line } from './lowerLine.ts';

/**
 * Maps a pad's clock to the host's monotonic clock. What is known are pairs (pad time, arrival).
 * Arrival = pad time · (1 + skew) + offset + delay, and the delay is never below the radio's least:
 * so the true line lies under all pairs and touches the quickest. The line is the edge of the lower
 * convex hull over the middle of the data (S. B. Moon, P. Skelly, D. Towsley, "Estimation and
 * removal of clock skew from network delay measurements", INFOCOM 1999, take the same line by
 * linear programming). The least delay stays in the offset: it is the same for pads of one model.
 *
 * The line used follows the line found by slewing, so that mapped times never step back and samples
 * stay nearly evenly spaced.
 */

/** Skew that a quartz can have against another, worst case of both: 2 × 100 ppm; common practice. */
const SKEW_LIMIT = 200e-6;
/** A slope is only believed over this much data, s: below it jitter makes more than the skew does. */
const SLOPE_NEEDS = 20;
/** First length of a window of which the quickest pair is kept, s. */
const WINDOW = 0.5;
/** Longest window, s: 64 of them see 17 min, over which a quartz's temperature hardly moves. */
const LONGEST_WINDOW = 16;
const WINDOWS = 64;
/** How far from the line an arrival may be before both clocks must have been torn apart, s. */
const TORN_EARLY = 1;
const TORN_LATE = 20;
/** Largest part of elapsed time that slewing may take: small errors, errors above FAR. */
const SLEW = 0.1;
const SLEW_FAR = 0.5;
const FAR = 0.05;

export interface ClockMap {
  /** Takes a pair: pad time of the newest sample in a packet and its arrival, s. */
  learn(padTime: number, arrival: number): void;
  /** Host time of a pad time, s; NaN before anything was learnt. */
  hostTime(padTime: number): number;
  /** Estimated skew of the pad's clock against the host's, for display and tests; 0 until known. */
  skew(): number;
  /** Forgets everything: the pad's clock began again. */
  reset(): void;
}

/** Makes the map of one pad. */
export const createClockMap = (): ClockMap => {
  /** Quickest pair of each closed window: pad time and (arrival − pad time), oldest first. */
  let times: number[] = [];
  let delays: number[] = [];
  let windowLength = WINDOW;
  let windowStart = Number.NaN;
  let bestTime = 0;
  let bestDelay = Infinity;
  let line: Line = { slope: 0, offset: 0, origin: 0 };
  /** Correction added to the line so that the map has no step; it is slewed to 0. */
  let correction = 0;
  let lastTime = Number.NaN;

  const at = (padTime: number): number =>
    padTime + line.offset + line.slope * (padTime - line.origin);

  const closeWindow = (): void => {
    times.push(bestTime);
    delays.push(bestDelay);
    bestDelay = Infinity;
    if (times.length < WINDOWS) return;
    if (windowLength >= LONGEST_WINDOW) {
      times.shift();
      delays.shift();
      return;
    }
    const keptTimes: number[] = [];
    const keptDelays: number[] = [];
    for (let k = 0; k + 1 < times.length; k += 2) {
      const a = (delays[k] ?? 0) - line.slope * (times[k] ?? 0);
      const b = (delays[k + 1] ?? 0) - line.slope * (times[k + 1] ?? 0);
      const quicker = a <= b ? k : k + 1;
      keptTimes.push(times[quicker] ?? 0);
      keptDelays.push(delays[quicker] ?? 0);
    }
    times = keptTimes;
    delays = keptDelays;
    windowLength *= 2;
  };

  /** Fits anew and keeps the mapped time of `padTime` as it was: the difference is slewed away. */
  const refit = (padTime: number): void => {
    const before = at(padTime) + correction;
    line = lowerLine(
      bestDelay < Infinity ? [...times, bestTime] : times,
      bestDelay < Infinity ? [...delays, bestDelay] : delays,
      { slopeLimit: SKEW_LIMIT, slopeNeeds: SLOPE_NEEDS },
    );
    correction = before - at(padTime);
  };

  const reset = (): void => {
    times = [];
    delays = [];
    windowLength = WINDOW;
    windowStart = Number.NaN;
    bestDelay = Infinity;
    line = { slope: 0, offset: 0, origin: 0 };
    correction = 0;
    lastTime = Number.NaN;
  };

  const begin = (padTime: number, arrival: number): void => {
    reset();
    windowStart = padTime;
    bestTime = padTime;
    bestDelay = arrival - padTime;
    line = { slope: 0, offset: bestDelay, origin: padTime };
    lastTime = padTime;
  };

  const slew = (padTime: number): void => {
    const elapsed = Math.max(0, padTime - lastTime);
    const most = elapsed * (Math.abs(correction) > FAR ? SLEW_FAR : SLEW);
    correction -= Math.sign(correction) * Math.min(Math.abs(correction), most);
    lastTime = Math.max(lastTime, padTime);
  };

  return {
    learn: (padTime, arrival) => {
      const late = arrival - at(padTime);
      if (Number.isNaN(windowStart) || late < -TORN_EARLY || late > TORN_LATE) {
        begin(padTime, arrival);
        return;
      }
      slew(padTime);
      const isWindowOver = padTime - windowStart >= windowLength;
      if (isWindowOver) {
        closeWindow();
        windowStart = padTime;
      }
      const delay = arrival - padTime;
      // Within a window the skew is too small to matter: 200 ppm over 16 s are 3 ms at the most,
      // and the line found so far takes that out.
      const isQuickest =
        bestDelay === Infinity || delay - line.slope * padTime < bestDelay - line.slope * bestTime;
      if (isQuickest) {
        bestDelay = delay;
        bestTime = padTime;
      }
      // Between windows only an arrival below the line can change it.
      if (isWindowOver || (isQuickest && late < 0)) refit(padTime);
    },
    hostTime: (padTime) => (Number.isNaN(windowStart) ? Number.NaN : at(padTime) + correction),
    skew: () => line.slope,
    reset,
  };
};
