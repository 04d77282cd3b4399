import { SAMPLE_FLAGS, type PadSample } from '../../../core/reading.ts';
import type { Second } from '../../../core/units.ts';
import { createLowPass, type LowPass } from './lowPass.ts';
import { createNoiseScale } from './noiseScale.ts';

/**
 * The device layer's filter, one per pad: raw samples in, `PadSample` out. It knows neighbours in
 * time and nothing of newtons.
 *
 * A sample is judged once its right neighbour is there, so what comes out is one sample late (100 ms
 * at 10 Hz, 12.5 ms at 80 Hz). It is a lone spike when it stands off both neighbours, to the same
 * side, by more than the limit and by twice the largest of the eight steps before, while the two
 * neighbours agree with one another, within the limit and a quarter of that distance: taken out, the
 * stream looks undisturbed. A step never does, its right neighbour stays; a rocking car does not come
 * back to where it was, and has moved before. Two spikes within eight samples are not lone and pass.
 * At 10 Hz a knock that is over within 0.1 s looks the same and is left out as well.
 *
 * The limit is 12 medians of the absolute first difference, 11 standard deviations of white noise,
 * and at least 16 steps of the converter, so that a quiet pad that dithers is left alone. Own choice,
 * no source: by simulation no sample of 10⁷ of white noise was taken for a spike, nor one of 5·10⁵ of
 * cars let down (10 to 80 Hz).
 */

/** One sample as the protocol layer hands it on, in order, duplicates and late ones taken out. */
export interface RawSample {
  /** Running number, unwrapped; a step other than one is a hole. */
  readonly index: number;
  readonly t: Second;
  readonly raw: number;
  /** Sum of SAMPLE_FLAGS. */
  readonly flags: number;
}

export interface PadFilter {
  /** Takes a sample; returns the one before it, finished, or null where there is none. */
  push(sample: RawSample): PadSample | null;
  /**
   * The stream broke or ended: returns the sample still held, if any. It has no right neighbour and
   * passes unjudged. The next sample begins anew; the noise level known so far is kept.
   */
  flush(): PadSample | null;
  /** As `flush`, and from the next sample on for another rate, whose noise is learnt afresh. */
  setRate(rate: number): PadSample | null;
}

const LIMIT_MEDIANS = 12;
const LIMIT_STEPS = 16;
const STEPS_BEFORE = 8;
const TIMES_STEPS_BEFORE = 2;
const SHARE_OF_AGREEMENT = 1 / 4;
const NOISE_DIFFERENCES = 31;
const NOISE_ENOUGH = 8;

/**
 * −3 dB point for a sample rate, Hz: 3 Hz, or a quarter of the rate where that is less. Rocking of
 * 2 to 5 Hz stays visible, figures stand still. Common practice, no source.
 */
export const cutoffFor = (rate: number): number => Math.min(3, rate / 4);

/**
 * Makes a filter. `rate` in Hz, also where the stream is uneven (then the usual one); `resolution`
 * is one step of the transmitted counts. Throws RangeError unless both are above zero.
 */
export const createFilter = (options: {
  readonly rate: number;
  readonly resolution?: number;
}): PadFilter => {
  const resolution = options.resolution ?? 1;
  if (!(resolution > 0)) throw new RangeError(`not a resolution: ${resolution}`);
  const noise = createNoiseScale({ size: NOISE_DIFFERENCES, enough: NOISE_ENOUGH });
  let lowPass: LowPass = createLowPass(cutoffFor(options.rate));
  let held: RawSample | null = null;
  /** The sample before the one held; null where the stream is not unbroken. */
  let before: RawSample | null = null;

  const isLoneSpike = (sample: RawSample, next: RawSample): boolean => {
    if (!before) return false;
    const offLeft = sample.raw - before.raw;
    const offRight = sample.raw - next.raw;
    if (!(offLeft * offRight > 0)) return false;
    // What tells most samples apart and costs least is asked first.
    const off = Math.min(Math.abs(offLeft), Math.abs(offRight));
    const apart = Math.abs(next.raw - before.raw);
    if (
      off <= LIMIT_STEPS * resolution ||
      apart > SHARE_OF_AGREEMENT * off ||
      off <= TIMES_STEPS_BEFORE * noise.largestBefore(STEPS_BEFORE)
    )
      return false;
    const median = noise.median();
    if (median === null) return false;
    const limit = Math.max(LIMIT_MEDIANS * median, LIMIT_STEPS * resolution);
    return off > limit && apart <= limit;
  };

  const finish = (sample: RawSample, next: RawSample | null): PadSample => {
    let clean = sample.raw;
    let flags = sample.flags;
    if (next && before && isLoneSpike(sample, next)) {
      const share = (sample.t - before.t) / (next.t - before.t);
      clean = before.raw + share * (next.raw - before.raw);
      flags |= SAMPLE_FLAGS.spike;
    }
    const smooth = lowPass.next(sample.t, clean);
    return { index: sample.index, t: sample.t, raw: sample.raw, clean, smooth, flags };
  };

  const flush = (): PadSample | null => {
    const last = held ? finish(held, null) : null;
    held = null;
    before = null;
    lowPass.restart();
    return last;
  };

  return {
    push: (sample) => {
      const last = held;
      if (!last) {
        held = sample;
        return null;
      }
      const follows =
        sample.index === last.index + 1 &&
        sample.t > last.t &&
        (sample.flags & SAMPLE_FLAGS.restarted) <= (last.flags & SAMPLE_FLAGS.restarted);
      if (!follows) {
        const finished = flush();
        held = sample;
        return finished;
      }
      const finished = finish(last, sample);
      noise.push(Math.abs(sample.raw - last.raw));
      before = last;
      held = sample;
      return finished;
    },
    flush,
    setRate: (rate) => {
      const next = createLowPass(cutoffFor(rate));
      const last = flush();
      lowPass = next;
      noise.restart();
      return last;
    },
  };
};
