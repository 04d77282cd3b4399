import { CLOCK_ROUNDING, type SettleOptions } from './settleOptions.ts';
import { LEVELS, type Verdicts } from './verdict.ts';
import { checkWindow, emptyCheck, sixthsRange, type WindowCheck } from './windowCheck.ts';

/** Verdicts of a corner that are kept for the joint verdict: how far pads may run apart, in ticks. */
const KEPT_VERDICTS = 64;

/** The verdicts of one corner, tick by tick. */
export interface CornerWindows extends Verdicts {
  /** Takes a sample; every tick that it closes is judged first. Not finite is a hole and ignored. */
  push(t: number, force: number): void;
  /** Nothing is known from here: the windows begin anew with the next sample. */
  restart(): void;
  /** Number of the newest tick judged; its time is this times the tick. −Infinity before the first. */
  readonly tick: number;
  /** Checks of the newest tick, one per level; valid where `failing` is finite. */
  readonly checks: readonly WindowCheck[];
  /** Peak to peak of the sixths over the newest half window, N; null while that is not full. */
  readonly motion: number | null;
}

/**
 * Keeps one corner's windows and judges them at whole ticks. A sample belongs to the tick at or next
 * after its time. The default window is judged on every sample, the longer ones on the means of
 * blocks, one a tick, which keeps the work per sample small. `judged` is called after each verdict,
 * `restarted` when the windows begin anew.
 */
export const createCornerWindows = (
  options: SettleOptions,
  listener: { readonly judged: (tick: number) => void; readonly restarted: () => void },
): CornerWindows => {
  const { tick: period, gap, fastest } = options;
  const spans = [options.window, ...options.longer];
  /** A longer window may drift by more, though more slowly. */
  const floors = spans.map((span) => options.driftFloor * Math.sqrt(span / options.window));
  const ticks = spans.map((span) => Math.round(span / period));
  const [short, , long] = ticks as [number, number, number];
  const half = Math.ceil(short / 2);

  const capacity = Math.ceil(options.window * fastest) + 1;
  const room = Math.max(capacity, long + 1);
  const sampleTimes = new Float64Array(capacity);
  const sampleValues = new Float64Array(capacity);
  const blockTimes = new Float64Array(long + 1);
  const blockValues = new Float64Array(long + 1);
  const blockTicks = new Float64Array(long + 1);
  const times = new Float64Array(room);
  const values = new Float64Array(room);
  const residuals = new Float64Array(room);

  const checks = spans.map(emptyCheck);
  const verdictTicks = new Float64Array(KEPT_VERDICTS).fill(NaN);
  const failings = new Float64Array(KEPT_VERDICTS * LEVELS);
  const driftings = new Float64Array(KEPT_VERDICTS * LEVELS);

  let samples = 0;
  let blocks = 0;
  let firstTick = Infinity;
  let openTick = 0;
  let judgedTick = -Infinity;
  let last = -Infinity;
  let blockCount = 0;
  let blockT = 0;
  let blockX = 0;
  let motion: number | null = null;

  const restart = (): void => {
    samples = 0;
    blocks = 0;
    firstTick = Infinity;
    last = -Infinity;
    blockCount = 0;
    motion = null;
    listener.restarted();
  };

  const tickOf = (t: number): number => Math.ceil(t / period);

  /** Copies the samples after tick `after` to the scratch, oldest first. */
  const gatherSamples = (after: number): number => {
    const held = Math.min(samples, capacity);
    let count = 0;
    while (count < held && tickOf(sampleTimes[(samples - 1 - count) % capacity] as number) > after)
      count += 1;
    for (let i = 0; i < count; i += 1) {
      const slot = (samples - count + i) % capacity;
      times[i] = sampleTimes[slot] as number;
      values[i] = sampleValues[slot] as number;
    }
    return count;
  };

  const gatherBlocks = (after: number): number => {
    const held = Math.min(blocks, long + 1);
    let count = 0;
    while (count < held && (blockTicks[(blocks - 1 - count) % (long + 1)] as number) > after)
      count += 1;
    for (let i = 0; i < count; i += 1) {
      const slot = (blocks - count + i) % (long + 1);
      times[i] = blockTimes[slot] as number;
      values[i] = blockValues[slot] as number;
    }
    return count;
  };

  /** How far a drift that stands out of the noise is over its floor; at most 1 is none. */
  const significantDrift = (check: WindowCheck, floor: number): number =>
    check.drift > 0
      ? Math.min(
          check.drift / floor,
          Math.abs(check.slope) / (options.significance * check.slopeError),
        )
      : 0;

  const judge = (tick: number): void => {
    const slot = ((tick % KEPT_VERDICTS) + KEPT_VERDICTS) % KEPT_VERDICTS;
    verdictTicks[slot] = tick;
    let worstWobbling = 0;
    for (let level = 0; level < LEVELS; level += 1) {
      const at = slot * LEVELS + level;
      const from = tick - (ticks[level] as number);
      failings[at] = Infinity;
      driftings[at] = 0;
      if (firstTick > from) continue;
      const count = level === 0 ? gatherSamples(from) : gatherBlocks(from);
      if (count < 3) continue;
      const check = checks[level] as WindowCheck;
      const span = spans[level] as number;
      checkWindow({ times, values, residuals, count, from: from * period, span }, check);
      const drifting = significantDrift(check, floors[level] as number);
      const wobbling = check.wobble / Math.max(options.wobble, check.wobbleByNoise);
      // A rocking that a longer window averages out is still a rocking: the worst level counts.
      worstWobbling = Math.max(worstWobbling, wobbling);
      failings[at] = Math.max(
        check.driftBound / options.driftBound,
        drifting,
        worstWobbling,
        check.u / options.uncertainty,
      );
      driftings[at] = wobbling <= 1 ? drifting : 0;
    }
    const halfFrom = tick - half;
    motion = null;
    if (firstTick <= halfFrom) {
      const count = gatherSamples(halfFrom);
      if (count > 0)
        motion = sixthsRange(times, values, {
          count,
          from: halfFrom * period,
          span: half * period,
        });
    }
    judgedTick = tick;
    listener.judged(tick);
  };

  const closeTick = (): void => {
    if (blockCount > 0) {
      const slot = blocks % (long + 1);
      blockTimes[slot] = blockT / blockCount;
      blockValues[slot] = blockX / blockCount;
      blockTicks[slot] = openTick;
      blocks += 1;
    }
    blockCount = 0;
    blockT = 0;
    blockX = 0;
    judge(openTick);
    openTick += 1;
  };

  const lookUp = (
    table: Float64Array,
    at: { readonly level: number; readonly tick: number; readonly unknown: number },
  ): number => {
    const { level, tick, unknown } = at;
    const slot = ((tick % KEPT_VERDICTS) + KEPT_VERDICTS) % KEPT_VERDICTS;
    return verdictTicks[slot] === tick ? (table[slot * LEVELS + level] as number) : unknown;
  };

  return {
    push: (t, force) => {
      if (!Number.isFinite(force) || t <= last) return;
      if (firstTick !== Infinity && t - last > gap + CLOCK_ROUNDING) restart();
      const tick = tickOf(t);
      if (firstTick === Infinity) {
        firstTick = tick;
        openTick = tick;
        blockCount = 0;
        blockT = 0;
        blockX = 0;
      }
      while (openTick < tick) closeTick();
      const slot = samples % capacity;
      sampleTimes[slot] = t;
      sampleValues[slot] = force;
      samples += 1;
      blockCount += 1;
      blockT += t;
      blockX += force;
      last = t;
    },
    restart,
    get tick() {
      return judgedTick;
    },
    checks,
    failing: (level, tick) => lookUp(failings, { level, tick, unknown: Infinity }),
    drifting: (level, tick) => lookUp(driftings, { level, tick, unknown: 0 }),
    get motion() {
      return motion;
    },
  };
};
