import type { STILLNESS } from '../contract/events.ts';
import { perCorner, type PerCorner } from '../corners.ts';
import { createCornerWindows, type CornerWindows } from './cornerWindows.ts';
import { SETTLE_DEFAULTS, type SettleOptions } from './settleOptions.ts';
import { createVerdict, type Verdict, type Verdicts } from './verdict.ts';
import type { WindowCheck } from './windowCheck.ts';
import { verdictEvery } from './windowLevel.ts';

export type Stillness = (typeof STILLNESS)[number];

/** A window that was judged settled, in seconds of the samples' clock. */
export interface SettledWindow {
  readonly from: number;
  readonly to: number;
}

/** What is known of one corner at its newest tick. */
export interface CornerStillness {
  /** Null while too little is known: at the beginning and after a gap. */
  readonly stillness: Stillness | null;
  /** Time of the newest verdict, s; null before the first. */
  readonly at: number | null;
  /** Time since when it has been settled, s; null while it is not. */
  readonly since: number | null;
  /** The longest window that holds, and what it shows; null while not settled. */
  readonly settled:
    | (SettledWindow & {
        /** Newton. */
        readonly mean: number;
        readonly u: number;
        readonly dof: number;
        /** Drift left, newton per second. */
        readonly slope: number;
      })
    | null;
}

/** What is known of all four at the newest tick that all of them have reached. */
export interface FourStillness {
  /** Settled only when all four are over one and the same window; else the least still of them. */
  readonly stillness: Stillness | null;
  readonly at: number | null;
  readonly since: number | null;
  /** The longest window that holds for all four; null while not settled. */
  readonly settled: SettledWindow | null;
}

export interface CornerSettle {
  /**
   * Takes a sample: time in s, force in N. Spikes are not pushed. Times rise; one that does not is
   * ignored. A step in time above the gap limit begins the corner anew.
   */
  push(t: number, force: number): void;
  /** The stream broke: nothing is known until a window has filled again. */
  gap(): void;
  now(): CornerStillness;
}

export interface Settle {
  readonly corners: PerCorner<CornerSettle>;
  now(): FourStillness;
  /** Begins anew: after a new zero, another calibration or another pad under a corner. */
  restart(): void;
}

/**
 * The *waiting* estimator: says when four loads have come to rest, from their samples alone, and
 * never before the numbers carry it. At every tick each corner's window must pass four tests, limits
 * in `SettleOptions`:
 *
 * - the drift over the window, as far as noise lets it be known (95 % upper bound), is small;
 * - no drift that matters stands out of the noise (line fit, autocorrelation allowed for);
 * - the means of the window's sixths differ by no more than a small band or the noise: no rocking;
 * - the mean is known well enough.
 *
 * Where noise hides the drift, windows of two and four times the length are tried; and where one of
 * those has become a straight line it must not drift either, so a slow drift is found in the end.
 *
 * Verdicts depend on the samples alone, not on how they were chopped or in which order the corners
 * came. No allocation per sample; `now` makes one small object.
 */
export const createSettle = (changes: Partial<SettleOptions> = {}): Settle => {
  const options: SettleOptions = { ...SETTLE_DEFAULTS, ...changes };
  const { tick: period } = options;
  const spans = [options.window, ...options.longer];

  /** A longer window ends at the newest tick at which it was judged. */
  const windowOf = (verdict: Verdict): SettledWindow => {
    const span = spans[verdict.level] as number;
    const every = verdictEvery(Math.round(span / options.window));
    const to = Math.floor(verdict.tick / every) * every * period;
    return { from: to - span, to };
  };

  const four = createVerdict(options);
  let fourTick = -Infinity;

  const makeCorner = () => {
    const verdict = createVerdict(options);
    /** What the window that is shown as settled shows. */
    const shown = { mean: NaN, u: NaN, dof: NaN, slope: NaN };
    const keep = (check: WindowCheck): void => {
      shown.mean = check.mean;
      shown.u = check.u;
      shown.dof = check.dof;
      shown.slope = check.slope;
    };
    const windows: CornerWindows = createCornerWindows(options, {
      judged: (tick) => {
        verdict.next(tick, windows);
        if (verdict.tick === tick) keep(windows.checks[verdict.level] as WindowCheck);
        judgeFour();
      },
      restarted: verdict.restart,
    });
    const stillness = (): Stillness | null => {
      if (verdict.since !== null) return 'settled';
      if (windows.motion === null) return null;
      return windows.motion > options.moving ? 'moving' : 'calming';
    };
    return {
      windows,
      stillness,
      push: windows.push,
      gap: windows.restart,
      now: (): CornerStillness => {
        const at = windows.tick * period;
        return {
          stillness: stillness(),
          at: Number.isFinite(at) ? at : null,
          since: verdict.since,
          settled: verdict.since === null ? null : { ...windowOf(verdict), ...shown },
        };
      },
    };
  };
  const corners = perCorner(makeCorner);
  const { LF, RF, LR, RR } = corners;
  const worstOfFour: Verdicts = {
    failing: (level, tick) =>
      Math.max(
        LF.windows.failing(level, tick),
        RF.windows.failing(level, tick),
        LR.windows.failing(level, tick),
        RR.windows.failing(level, tick),
      ),
    drifting: (level, tick) =>
      Math.max(
        LF.windows.drifting(level, tick),
        RF.windows.drifting(level, tick),
        LR.windows.drifting(level, tick),
        RR.windows.drifting(level, tick),
      ),
  };

  /** Judges every tick that all four have reached and that was not judged yet. */
  const judgeFour = (): void => {
    const reached = Math.min(LF.windows.tick, RF.windows.tick, LR.windows.tick, RR.windows.tick);
    if (reached === -Infinity) return;
    if (fourTick === -Infinity) fourTick = reached - 1;
    while (fourTick < reached) {
      fourTick += 1;
      four.next(fourTick, worstOfFour);
    }
  };

  const now = (): FourStillness => {
    let settled = four.since !== null;
    let moving = false;
    let known = true;
    for (const corner of [LF, RF, LR, RR]) {
      const stillness = corner.stillness();
      settled &&= stillness === 'settled';
      moving ||= stillness === 'moving';
      known &&= stillness !== null;
    }
    let stillness: Stillness | null = null;
    if (settled) stillness = 'settled';
    else if (known) stillness = moving ? 'moving' : 'calming';
    return {
      stillness,
      at: Number.isFinite(fourTick) ? fourTick * period : null,
      since: settled ? four.since : null,
      settled: settled ? windowOf(four) : null,
    };
  };

  return {
    corners,
    now,
    restart: () => {
      for (const corner of [LF, RF, LR, RR]) corner.gap();
      four.restart();
    },
  };
};
