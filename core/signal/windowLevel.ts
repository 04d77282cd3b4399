import type { SettleOptions } from './settleOptions.ts';
import { createSlidingSeries, type SlidingSeries } from './slidingSeries.ts';
import { checkWindow, emptyCheck, type WindowCheck } from './windowCheck.ts';
import { wobbleByNoise } from './wobbleByNoise.ts';

/** A level's window is cut into so many blocks; fewer are filled where the samples are further apart. */
export const BLOCKS = 60;

/** One of a corner's windows: its blocks, the one that is still open, and its newest verdict. */
export interface WindowLevel {
  readonly span: number;
  readonly ticks: number;
  readonly driftFloor: number;
  /** Times the shortest window, and so in blocks of that to one of these. */
  readonly ratio: number;
  /** Ticks from verdict to verdict. */
  readonly every: number;
  readonly blocks: SlidingSeries;
  /** Cursor of the first block of each of the newest ticks, by `slotOf`. */
  readonly begins: Float64Array;
  readonly check: WindowCheck;
  /** What the newest verdict says, see `Verdicts`, and the wobble over what is allowed of it. */
  failing: number;
  drifting: number;
  wobbling: number;
  /** The open block: its number, and the sums of the samples in it. */
  open: number;
  count: number;
  sumT: number;
  sumX: number;
}

/** Makes the level of a window of `span` seconds. Throws RangeError where it is not whole ticks. */
export const createWindowLevel = (options: SettleOptions, span: number): WindowLevel => {
  const ticks = wholeRatio(span, options.tick);
  const ratio = wholeRatio(span, options.window);
  return {
    span,
    ticks,
    // A longer window may drift by more, though more slowly.
    driftFloor: options.driftFloor * Math.sqrt(span / options.window),
    ratio,
    every: verdictEvery(ratio),
    blocks: createSlidingSeries(BLOCKS + 1),
    begins: new Float64Array(tableSize(ticks + 1)),
    check: emptyCheck(),
    failing: Infinity,
    drifting: 0,
    wobbling: 0,
    open: 0,
    count: 0,
    sumT: 0,
    sumX: 0,
  };
};

/** Begins a level anew at a block of the shortest window: nothing is known of what was before. */
export const beginLevel = (level: WindowLevel, block: number): void => {
  level.failing = Infinity;
  level.drifting = 0;
  level.wobbling = 0;
  level.open = Math.ceil(block / level.ratio);
  level.count = 0;
  level.sumT = 0;
  level.sumX = 0;
};

/**
 * Judges a level at a tick; `firstTick` is the one with the corner's first sample, which may be part
 * of a tick only and is not used. `residuals` is room for a window's blocks.
 */
export const judgeLevel = (
  level: WindowLevel,
  at: {
    readonly tick: number;
    readonly firstTick: number;
    readonly options: SettleOptions;
    readonly residuals: Float64Array;
  },
): void => {
  const { span, ticks, driftFloor, blocks, begins, check } = level;
  const { tick, firstTick, options, residuals } = at;
  const after = tick - ticks;
  const first = firstTick > after ? Infinity : (begins[slotOf(after + 1, begins.length)] as number);
  const count = blocks.end - first;
  if (count < 3 || first < blocks.begin) {
    level.failing = Infinity;
    level.drifting = 0;
    level.wobbling = 0;
    return;
  }
  const { times, values } = blocks;
  const start = blocks.startOf(first);
  const from = after * options.tick;
  checkWindow({ times, values, residuals, start, count, from, span }, check);
  const drifting =
    check.drift > 0
      ? Math.min(
          check.drift / driftFloor,
          Math.abs(check.slope) / (options.significance * check.slopeError),
        )
      : 0;
  level.wobbling = check.wobble / options.wobble;
  if (level.wobbling > 1)
    level.wobbling = check.wobble / Math.max(options.wobble, wobbleByNoise(values, start, count));
  level.drifting = level.wobbling <= 1 ? drifting : 0;
  level.failing = Math.max(
    check.driftBound / options.driftBound,
    drifting,
    level.wobbling,
    check.u / options.uncertainty,
  );
};

/**
 * Ticks from verdict to verdict of a window so many times the shortest: every one for that, and about
 * seven to the length of a longer one, which cannot change faster.
 */
export const verdictEvery = (ratio: number): number => (ratio === 1 ? 1 : 2 * ratio);

/** How many times `part` goes into `whole`. Throws RangeError where it does not go evenly. */
export const wholeRatio = (whole: number, part: number): number => {
  const ratio = Math.round(whole / part);
  if (!(ratio >= 1) || Math.abs(whole - ratio * part) > 1e-9 * whole)
    throw new RangeError(`${whole} s is not a whole number of ${part} s`);
  return ratio;
};

/** Place of a whole number, which may be negative, in a table whose size is a power of two. */
export const slotOf = (number: number, size: number): number => number & (size - 1);

/** The least power of two that is not below `size`. */
const tableSize = (size: number): number => 2 ** Math.ceil(Math.log2(size));
