import { CLOCK_ROUNDING, type SettleOptions } from './settleOptions.ts';
import { LEVELS, type Verdicts } from './verdict.ts';
import type { WindowCheck } from './windowCheck.ts';
import {
  beginLevel,
  BLOCKS,
  createWindowLevel,
  judgeLevel,
  slotOf,
  wholeRatio,
  type WindowLevel,
} from './windowLevel.ts';

/** Verdicts of a corner that are kept for the joint verdict: how far pads may run apart, in ticks; a power of two. */
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
  /** Peak to peak of the blocks in the newest half window, N; null while that is not full. */
  readonly motion: number | null;
}

/**
 * Keeps one corner's windows and judges them at whole ticks. Each window is kept as the means of its
 * blocks, a sixtieth of it, and a sample belongs to the block that ends at or next after its time:
 * what a verdict costs does not depend on the rate. The longer windows are judged more seldom and keep
 * their verdicts in between. `judged` is called after each verdict,
 * `restarted` when the windows begin anew. Throws RangeError on options whose windows and tick are
 * not whole blocks.
 */
export const createCornerWindows = (
  options: SettleOptions,
  listener: { readonly judged: (tick: number) => void; readonly restarted: () => void },
): CornerWindows => {
  const { tick: period, gap } = options;
  const fine = options.window / BLOCKS;
  const perTick = wholeRatio(period, fine);
  const levels = [options.window, ...options.longer].map((span) =>
    createWindowLevel(options, span),
  );
  const [shortest, , longest] = levels as [WindowLevel, WindowLevel, WindowLevel];
  const half = Math.ceil(shortest.ticks / 2);
  const residuals = new Float64Array(BLOCKS + 1);

  const checks = levels.map(({ check }) => check);
  const verdictTicks = new Float64Array(KEPT_VERDICTS).fill(NaN);
  const failings = new Float64Array(KEPT_VERDICTS * LEVELS);
  const driftings = new Float64Array(KEPT_VERDICTS * LEVELS);

  let firstTick = Infinity;
  let openTick = 0;
  let judgedTick = -Infinity;
  /** Time of the newest sample; typed, so that the live path boxes no number. */
  const last = Float64Array.of(-Infinity);

  const openNext = (tick: number): void => {
    openTick = tick;
    for (const { begins, blocks } of levels) begins[slotOf(tick, begins.length)] = blocks.end;
  };

  /** Closes every block that ends before fine block `next`, the shorter ones into the longer. */
  const closeBlocks = (next: number): void => {
    for (let at = 0; at < LEVELS; at += 1) {
      const level = levels[at] as WindowLevel;
      const block = Math.ceil(next / level.ratio);
      if (block === level.open) return;
      level.open = block;
      const { count, sumT, sumX } = level;
      if (count === 0) continue;
      level.blocks.push(sumT / count, sumX / count);
      level.count = 0;
      level.sumT = 0;
      level.sumX = 0;
      const longer = levels[at + 1];
      if (!longer) continue;
      longer.count += count;
      longer.sumT += sumT;
      longer.sumX += sumX;
    }
  };

  const restart = (): void => {
    firstTick = Infinity;
    last[0] = -Infinity;
    listener.restarted();
  };

  /** The first sample after a beginning: whatever is open belongs to before it. */
  const begin = (block: number): void => {
    for (const level of levels) beginLevel(level, block);
    firstTick = Math.ceil(block / perTick);
    openNext(firstTick);
  };

  /** Whether the newest tick's mean is far off that of the shortest window before it. */
  const hasJumped = (tick: number): boolean => {
    const { blocks, begins } = longest;
    if (blocks.end <= (begins[slotOf(tick, begins.length)] as number)) return false;
    const { failing, check } = shortest;
    if (failing === Infinity) return false;
    const newest = blocks.values[blocks.startOf(blocks.end - 1)] as number;
    const off = Math.abs(newest - check.mean);
    return off > Math.max(options.jump, 6 * check.u * Math.sqrt(shortest.ticks));
  };

  const judge = (tick: number): void => {
    const slot = slotOf(tick, KEPT_VERDICTS);
    verdictTicks[slot] = tick;
    let worstWobbling = hasJumped(tick) ? Infinity : 0;
    for (let at = 0; at < LEVELS; at += 1) {
      const level = levels[at] as WindowLevel;
      if (tick % level.every === 0) judgeLevel(level, { tick, firstTick, options, residuals });
      // A rocking that a longer window averages out is still a rocking, and what moves now is seen by
      // the shortest first: the worst of the levels up to this one counts.
      worstWobbling = Math.max(worstWobbling, level.wobbling);
      failings[slot * LEVELS + at] = Math.max(level.failing, worstWobbling);
      driftings[slot * LEVELS + at] = level.drifting;
    }
    judgedTick = tick;
    listener.judged(tick);
  };

  /** Peak to peak, after a tick, of the blocks that are as long as the longest window's. */
  const motionSince = (tick: number): number => {
    const { blocks, begins } = longest;
    let low = Infinity;
    let high = -Infinity;
    const first = begins[slotOf(tick + 1, begins.length)] as number;
    const start = blocks.startOf(first);
    for (let i = 0; i < blocks.end - first; i += 1) {
      low = Math.min(low, blocks.values[start + i] as number);
      high = Math.max(high, blocks.values[start + i] as number);
    }
    return high > low ? high - low : 0;
  };

  /** Where a tick's verdict on a level is kept; −1 where it is not known (any more). */
  const entryOf = (level: number, tick: number): number => {
    const slot = slotOf(tick, KEPT_VERDICTS);
    return verdictTicks[slot] === tick ? slot * LEVELS + level : -1;
  };

  return {
    push: (t, force) => {
      if (!Number.isFinite(force) || t <= (last[0] as number)) return;
      if (firstTick !== Infinity && t - (last[0] as number) > gap + CLOCK_ROUNDING) restart();
      const block = Math.ceil(t / fine);
      if (firstTick === Infinity) {
        begin(block);
      } else if (block !== shortest.open) {
        closeBlocks(block);
        const tick = Math.ceil(block / perTick);
        while (openTick < tick) {
          judge(openTick);
          openNext(openTick + 1);
        }
      }
      shortest.count += 1;
      shortest.sumT += t;
      shortest.sumX += force;
      last[0] = t;
    },
    restart,
    get tick() {
      return judgedTick;
    },
    checks,
    failing: (level, tick) => failings[entryOf(level, tick)] ?? Infinity,
    drifting: (level, tick) => driftings[entryOf(level, tick)] ?? 0,
    get motion() {
      return firstTick <= judgedTick - half ? motionSince(judgedTick - half) : null;
    },
  };
};
