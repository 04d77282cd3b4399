import { CLOCK_ROUNDING } from '../settleOptions.ts';
import { createSlidingSeries } from '../slidingSeries.ts';
import type { FitPad } from './jointFit.ts';
import { createQuietNoise, type QuietNoise } from './quietNoise.ts';

/** The newest samples of one pad, ready to be fitted. */
export interface PadTrack {
  readonly quiet: QuietNoise;
  /** Times of the oldest sample held and of the newest, s; Infinity and −Infinity while empty. */
  readonly oldest: number;
  readonly newest: number;
  push(t: number, force: number): void;
  /** The stream broke: the noise of what was in between is not known. */
  gap(): void;
  restart(): void;
  /** Copies what is after `from` to a fit, in seconds from there. */
  copy(from: number, to: FitPad): void;
  /** Hands over the samples after a time, oldest first, until `take` returns false. */
  eachAfter(t: number, take: (t: number, force: number) => boolean): void;
}

/**
 * Samples that come closer than this are thinned out, s: modes of 5 Hz are well sampled by 80 a second,
 * and the work stays bounded.
 */
const CLOSEST = 0.011;
/** An oversampled converter repeats a value; a repeat is no reading, unless for so long, s. */
const LONGEST_REPEAT = 0.1;
/** Differences of which the median is the usual step. */
const STEPS = 31;

/** Makes a track that holds `capacity` samples. */
export const createPadTrack = (capacity: number): PadTrack => {
  const series = createSlidingSeries(capacity);
  const quiet = createQuietNoise();
  let begin = 0;
  let last = -Infinity;
  let lastForce = NaN;
  const steps = new Float64Array(STEPS);

  const first = (): number => Math.max(begin, series.begin);
  const timeAt = (cursor: number): number => series.times[series.startOf(cursor)] as number;

  /** Median of the newest steps in time. */
  const usualStep = (): number => {
    const count = Math.min(STEPS, series.end - first() - 1);
    for (let i = 0; i < count; i += 1)
      steps[i] = timeAt(series.end - 1 - i) - timeAt(series.end - 2 - i);
    const sorted = steps.subarray(0, count).sort();
    return sorted[count >> 1] as number;
  };

  /**
   * The grid that the times lie on, first + offset + step · k, by least squares over all that is held:
   * a pad converts evenly, and the millisecond to which its clock is rounded is many newtons of a moving
   * car. Null where the times lie on none.
   */
  const grid = (): { readonly offset: number; readonly step: number } | null => {
    const from = first();
    const count = series.end - from;
    if (count < 8) return null;
    const usual = usualStep();
    const origin = timeAt(from);
    let k = 0;
    let sumK = 0;
    let sumT = 0;
    let sumKK = 0;
    let sumKT = 0;
    for (let i = 1, before = origin; i < count; i += 1) {
      const t = timeAt(from + i);
      k += Math.max(1, Math.round((t - before) / usual));
      before = t;
      sumK += k;
      sumT += t - origin;
      sumKK += k * k;
      sumKT += k * (t - origin);
    }
    const step = (sumKT - (sumK * sumT) / count) / (sumKK - (sumK * sumK) / count);
    const offset = (sumT - step * sumK) / count;
    k = 0;
    for (let i = 0, before = origin; i < count; i += 1) {
      const t = timeAt(from + i);
      if (i > 0) k += Math.max(1, Math.round((t - before) / usual));
      before = t;
      if (Math.abs(t - origin - offset - step * k) > CLOCK_ROUNDING / 2) return null;
    }
    return { offset, step };
  };

  return {
    quiet,
    get oldest() {
      return series.end > first() ? timeAt(first()) : Infinity;
    },
    get newest() {
      return series.end > first() ? timeAt(series.end - 1) : -Infinity;
    },
    push: (t, force) => {
      if (!Number.isFinite(force) || !(t - last >= CLOSEST)) return;
      if (force === lastForce && t - last < LONGEST_REPEAT) return;
      last = t;
      lastForce = force;
      series.push(t, force);
      quiet.push(t, force);
    },
    gap: quiet.drop,
    restart: () => {
      begin = series.end;
      last = -Infinity;
      lastForce = NaN;
      quiet.drop();
    },
    eachAfter: (after, take) => {
      let cursor = series.end;
      while (cursor > first() && timeAt(cursor - 1) > after) cursor -= 1;
      for (; cursor < series.end; cursor += 1) {
        const at = series.startOf(cursor);
        if (!take(series.times[at] as number, series.values[at] as number)) return;
      }
    },
    copy: (from, to) => {
      const even = grid();
      const start = first();
      const origin = series.end > start ? timeAt(start) : 0;
      const usual = even?.step ?? 1;
      let k = 0;
      let before = origin;
      to.count = 0;
      for (let cursor = start; cursor < series.end; cursor += 1) {
        const at = series.startOf(cursor);
        const t = series.times[at] as number;
        if (cursor > start) k += Math.max(1, Math.round((t - before) / usual));
        before = t;
        if (t < from || to.count >= to.times.length) continue;
        if (to.count === 0) to.level = series.values[series.startOf(series.end - 1)] as number;
        to.times[to.count] = even ? origin - from + even.offset + even.step * k : t - from;
        to.values[to.count] = (series.values[at] as number) - to.level;
        to.count += 1;
      }
    },
  };
};
