/**
 * What *settled* means. Times in seconds of the samples' own clock, never in samples; forces in
 * newton. The limits follow from what a set-up crew acts on, 0.1 to 0.2 kg on a corner (common
 * practice, no source); what they lead to is measured in the tests of `settle`.
 */
export interface SettleOptions {
  /**
   * The shortest stretch that may be called settled, s: three periods of a car that rocks at 2 Hz,
   * so that what is left of the rocking averages out.
   */
  readonly window: number;
  /**
   * Longer stretches, s: tried where noise hides the drift, and watched for slow drift later. Whole
   * multiples of the shortest.
   */
  readonly longer: readonly [number, number];
  /** Verdicts fall at whole multiples of this time, s; a whole number of sixtieths of the window. */
  readonly tick: number;
  /** A corner that was not heard for longer begins anew, s. The capture's own limit. */
  readonly gap: number;
  /** Drift over the window, its 95 % upper confidence bound, N. */
  readonly driftBound: number;
  /**
   * Drift over the window that is never acted on, however significant, N; over a longer window the
   * root of its relative length times that.
   */
  readonly driftFloor: number;
  /** A drift above the floor is real beyond so many standard errors (4: 1 in 16 000 by chance). */
  readonly significance: number;
  /** Peak to peak of the means of the window's sixths, N: what is left of a rocking. */
  readonly wobble: number;
  /**
   * Newest tick against the mean of the window, N: a load that jumps by more, and by six standard
   * deviations of a tick's mean, ends *settled* at once.
   */
  readonly jump: number;
  /** Standard uncertainty of the mean, N. */
  readonly uncertainty: number;
  /** A peak to peak of the blocks in the newest half above this is *moving*, below *calming*, N. */
  readonly moving: number;
  /** A corner stays settled up to so many times the limits, and leaves at once over `leaveAtOnce`. */
  readonly leave: number;
  readonly leaveAtOnce: number;
  /** Verdicts in a row that it takes to change between settled and not. */
  readonly hold: number;
}

export const SETTLE_DEFAULTS: SettleOptions = {
  window: 1.5,
  longer: [3, 6],
  tick: 0.1,
  gap: 0.2,
  driftBound: 3,
  driftFloor: 0.3,
  significance: 4,
  wobble: 1.5,
  jump: 5,
  uncertainty: 0.5,
  moving: 20,
  leave: 1.5,
  leaveAtOnce: 5,
  hold: 2,
};

/** Clock mapping rounds pad times to a millisecond; a gap that only rounding makes is none. */
export const CLOCK_ROUNDING = 0.002;
