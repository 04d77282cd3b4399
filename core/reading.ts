import type { Newton, Second } from './units.ts';

/**
 * What a pad said and what it means. A hole in the stream is a value of its own (`StreamGap`),
 * never a number.
 */

/** Bits of a sample's status, the same for every pad model. */
export const SAMPLE_FLAGS = {
  /** The load is above the pad's rated load; the number is not to be trusted. */
  overload: 1,
  /** The converter is at the end of its range; the number is only a bound. */
  saturated: 2,
  lowBattery: 4,
  /** First sample after the pad restarted: sequence and clock began again. */
  restarted: 8,
  /** The device layer put another value in `clean` because this one was a lone spike. */
  spike: 16,
} as const;

/** One conversion of one pad after the device layer: raw counts are kept beside what was made of them. */
export interface PadSample {
  /** Running number of the sample since the stream began; unwrapped, so a step above 1 is a hole. */
  readonly index: number;
  /** Time of the conversion on the host's monotonic clock. */
  readonly t: Second;
  /** Counts as the pad sent them. */
  readonly raw: number;
  /** Counts with lone spikes replaced: what averages are made of. */
  readonly clean: number;
  /** Counts after the low-pass filter: what people watch. */
  readonly smooth: number;
  /** Sum of SAMPLE_FLAGS. */
  readonly flags: number;
}

export const GAP_REASONS = ['lost', 'restarted', 'link', 'impossible'] as const;
export type GapReason = (typeof GAP_REASONS)[number];

/** A hole in a pad's stream: nothing is known between the two times. */
export interface StreamGap {
  readonly from: Second;
  readonly to: Second;
  /** Samples missing by sequence number; null where the pad cannot say (link lost, restart). */
  readonly missing: number | null;
  readonly reason: GapReason;
}

/** A sample as a force: calibration and zero applied, gravity still in it. */
export interface Reading {
  readonly t: Second;
  readonly clean: Newton;
  readonly smooth: Newton;
  readonly flags: number;
}

/** What a pad says of its own scale: the source of the nominal span when it was never calibrated. */
export interface PadRating {
  /** Rated load, as the mass that makes it under standard gravity, kg. */
  readonly ratedLoad: number;
  /** Counts that the rated load adds to the zero, by the maker's rating. */
  readonly countsAtRatedLoad: number;
  /** One step of the transmitted number, counts (1 unless the model says otherwise). */
  readonly resolution: number;
}

/** Seconds without a sample after which a reading is no longer live. */
export const LIVE_FOR = 0.5;
