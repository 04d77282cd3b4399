/** The masses that a trace shows, kg, with the marks on its axis. */
export interface TraceRange {
  readonly low: number;
  readonly high: number;
  readonly ticks: readonly number[];
}

/** A span that is shown even if nothing moves, in the unit shown: a settled load is a flat line. */
const LEAST_SPAN = 2;
/** A range is drawn closer once the trace fills less than this part of it … */
const CLOSE_IN_BELOW = 0.75;
/** … for so long, s. */
const CLOSE_IN_AFTER = 2;
/** Air above and below, as a part of what is shown. */
const AIR = 0.1;
/** The ends of a range are whole steps of one part in so many of it. */
const STEPS = 10;

const niceStep = (rough: number): number => {
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].find((nice) => nice * power >= rough) ?? 10;
  return step * power;
};

/**
 * The range that holds low to high (kg) with some air, on round numbers of the unit shown.
 * `perUnit` is the mass of one unit in kg.
 */
export const rangeAround = (low: number, high: number, perUnit: number): TraceRange => {
  const from = low / perUnit;
  const to = high / perUnit;
  const span = Math.max(to - from, LEAST_SPAN);
  const middle = (from + to) / 2;
  const step = niceStep(span / STEPS);
  const first = Math.floor((middle - span * (0.5 + AIR)) / step) * step;
  const last = Math.ceil((middle + span * (0.5 + AIR)) / step) * step;
  const ticks = [first * perUnit, last * perUnit];
  return { low: first * perUnit, high: last * perUnit, ticks };
};

export interface RangeKeeper {
  /** The range to draw, given what the trace holds now; the same object while it stays. */
  judge(low: number, high: number, now: number): TraceRange;
}

/**
 * Keeps a range with hysteresis: it opens at once when the trace leaves it and closes in only after
 * the trace has been small in it for a while, so that the picture is redrawn seldom.
 */
export const createRangeKeeper = (perUnit: number): RangeKeeper => {
  let range = rangeAround(0, 0, perUnit);
  let smallSince: number | null = null;
  return {
    judge: (low, high, now) => {
      if (!(low <= high)) return range;
      if (low < range.low || high > range.high) {
        // More room on the side that grows: a rising load redraws a few times, not each frame.
        const reach = Math.max(high - low, 0) / 3;
        range = rangeAround(
          low < range.low ? low - reach : low,
          high > range.high ? high + reach : high,
          perUnit,
        );
        smallSince = null;
        return range;
      }
      const closer = rangeAround(low, high, perUnit);
      const isSmall = closer.high - closer.low < CLOSE_IN_BELOW * (range.high - range.low);
      if (!isSmall) smallSince = null;
      else {
        smallSince ??= now;
        if (now - smallSince > CLOSE_IN_AFTER) {
          range = closer;
          smallSince = null;
        }
      }
      return range;
    },
  };
};
