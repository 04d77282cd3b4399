import { CORNERS, inOrder, perCorner, type PerCorner } from '../../corners.ts';
import { measured, type Measured } from '../../measured.ts';
import { newton, type Newton } from '../../units.ts';
import { judgeFit, type Adequacy } from './adequacy.ts';
import { createEvents } from './events.ts';
import { createJointFit, type FitPad } from './jointFit.ts';
import { LIMITS } from './limits.ts';
import { MODES } from './modalBasis.ts';
import { createPadTrack, type PadTrack } from './padTrack.ts';
import { shapeToBeginWith } from './priors.ts';
import { settledLoads } from './slowPart.ts';
import { createTrial } from './trial.ts';

/** One of the body's modes as the fit has it. */
export interface EarlyMode {
  readonly hertz: number;
  /** Damping ratio; 1 is critical. */
  readonly damping: number;
}

/** Where the four loads are going to settle, said while the car still moves. Provisional, always. */
export interface EarlyReading {
  readonly provisional: true;
  /** The window that was fitted, s. */
  readonly from: number;
  readonly to: number;
  /** Settled loads; standard uncertainty of noise and fit alone, autocorrelation allowed for. */
  readonly corners: PerCorner<Measured<Newton>>;
  /** Of the four, N², row by row in the order LF, RF, LR, RR. */
  readonly covariance: readonly number[];
  /** How fast each load still drifts at `to` apart from the rocking, N/s. */
  readonly slopes: PerCorner<number>;
  /** Slowest first. A mode that does not move has what any car has. */
  readonly modes: readonly EarlyMode[];
}

export type EarlySilence =
  /** A pad has too few samples, or none that are as new as the others'. */
  | 'not enough samples'
  /** No window up to now moves as a body on springs does: jack, hands, friction, landing wheels. */
  | 'does not fit'
  /** It fits again after it did not, and not yet for long: hands on the car come and go like that. */
  | 'on trial'
  /** It fits, and says too little of the settled load. */
  | 'too uncertain';

export type EarlyLook =
  | { readonly ok: true; readonly reading: EarlyReading }
  | { readonly ok: false; readonly why: EarlySilence };

export interface Early {
  readonly corners: PerCorner<{
    /**
     * Takes a sample: time in s, force in N. What is no reading is not pushed: spikes, overload,
     * saturation. Times rise; one that does not is ignored, and so is one closer than a ninetieth of a
     * second to the last, a value that is not finite, and one that a converter repeats. Pads that stand
     * empty are pushed too: they show the noise.
     */
    push(t: number, force: number): void;
    /** The stream broke. What comes after a hole still belongs to the same motion. */
    gap(): void;
  }>;
  /**
   * Fits what has come up to now: half a millisecond of work, at most about six (`npm run
   * bench:settle`). Meant for 5 to 20 times a second while the car moves.
   */
  look(): EarlyLook;
  /** Begins anew: after a new zero, another calibration or another pad under a corner. */
  restart(): void;
}

/** A window that fits, up to the newest sample, and how well it does. */
interface FittedWindow {
  readonly from: number;
  readonly adequacy: Adequacy;
}

/**
 * The *early* estimator: says where four loads will settle while the car still moves, from the motion
 * that the four pads share, and how well it knows. Its truth is the load at rest, after the rocking and
 * after what gives way within seconds; creep of minutes is not in it.
 *
 * At every look the longest window is fitted that moves as a body on springs (`jointFit`); a window
 * whose residuals are more than noise (`judgeFit`) is given up for a shorter one that ends now, so that
 * landing wheels, a jack, a knock or friction that stops the car fall out of it. Where none fits, or
 * one has not fitted for long after the last did not (`trial`), or it says too little of the
 * loads, there is no reading. A steady hand is a settled load to it as to any scale (`totalCheck`). Free
 * of clocks: the same calls give the same answers.
 */
export const createEarly = (): Early => {
  const capacity = Math.ceil(LIMITS.window * 92) + 8;
  const tracks = perCorner(() => createPadTrack(capacity));
  const four = inOrder(tracks);
  const fit = createJointFit(capacity);
  const events = createEvents();
  const trial = createTrial();
  /** The window begins no earlier than this. */
  let anchor = -Infinity;
  let failures = 0;
  /** What is left of the work of this look, samples times steps. */
  let budget = 0;

  const noiseOf = ({ quiet }: PadTrack): number =>
    quiet.dof > 0 ? Math.max(LIMITS.leastNoise, Math.sqrt(quiet.variance)) : LIMITS.guessedNoise;

  /** Fits the window from a time on. Null where it holds too little or the numbers do not allow it. */
  const attempt = (from: number): Adequacy | null => {
    let samples = 0;
    four.forEach((track, index) => {
      const pad = fit.pads[index] as FitPad;
      track.copy(from, pad);
      samples += pad.count;
      pad.noise = noiseOf(track);
    });
    if (fit.pads.some(({ count }) => count < LIMITS.fewest)) return null;
    const steps = Math.min(LIMITS.steps, Math.ceil(budget / samples));
    budget -= samples * (1 + steps);
    if (!fit.fit(steps)) return null;
    const determined = fit.spread();
    if (!(samples - determined >= LIMITS.leastDof)) return null;
    return judgeFit(fit.pads, determined, Math.min(...four.map(({ quiet }) => quiet.dof)));
  };

  /** The best of going on from the last shape and, where that fails, of beginning anew. */
  const tryFrom = (from: number): Adequacy | null => {
    const found = attempt(from);
    if (!found || found.failing <= 1 || budget <= 0) return found;
    fit.shape.set(shapeToBeginWith());
    return attempt(from);
  };

  /** The longest window from a time to the newest sample that fits, and how well; or why there is none. */
  const findWindow = (begin: number, newest: number): FittedWindow | EarlySilence => {
    budget = LIMITS.work;
    let from = begin;
    let adequacy = tryFrom(from);
    if (!adequacy) return 'not enough samples';
    if (adequacy.failing > 1) {
      failures += 1;
      trial.trouble(newest);
      // A window that has served is not given up for one look that chance makes worse.
      if (failures < LIMITS.patience && adequacy.failing < LIMITS.hopeless) return 'does not fit';
      for (const share of LIMITS.shorter) {
        const next = newest - Math.max(LIMITS.shortest, share * (newest - from));
        if (next <= from) break;
        from = next;
        anchor = from;
        if (budget <= 0) break;
        const shorter = tryFrom(from);
        if (!shorter) break;
        adequacy = shorter;
        if (adequacy.failing <= 1) break;
      }
      if (adequacy.failing > 1) {
        events.forget();
        return 'does not fit';
      }
    }
    failures = 0;
    trial.fits();
    return { from, adequacy };
  };

  /** Null where rounding has left no covariance to speak of. */
  const readingOf = ({ from, adequacy }: FittedWindow, to: number): EarlyReading | null => {
    const { values, covariance, slopes } = settledLoads(
      fit,
      adequacy.variance * adequacy.inflation,
      to - from,
    );
    if (!CORNERS.every((_, pad) => (covariance[5 * pad] as number) > 0)) return null;
    return {
      provisional: true,
      from,
      to,
      corners: perCorner((_, pad) =>
        measured(
          newton((fit.pads[pad] as FitPad).level + (values[pad] as number)),
          Math.sqrt(covariance[5 * pad] as number),
          Math.max(1, adequacy.dof),
        ),
      ),
      covariance,
      slopes: perCorner((_, pad) => slopes[pad] as number),
      modes: Array.from({ length: MODES }, (_, mode) => ({
        hertz: Math.exp(fit.shape[mode] as number) / (2 * Math.PI),
        damping: fit.shape[MODES + mode] as number,
      })).sort((a, b) => a.hertz - b.hertz),
    };
  };

  const look = (): EarlyLook => {
    const to = Math.min(...four.map(({ newest }) => newest));
    const newest = Math.max(...four.map((track) => track.newest));
    const begin = Math.max(...four.map(({ oldest }) => oldest));
    if (!(to > begin) || newest - to > LIMITS.gap) return { ok: false, why: 'not enough samples' };
    const event = events.since(four);
    if (event !== null) {
      anchor = event;
      trial.trouble(event);
      events.forget();
    }
    const window = findWindow(Math.max(anchor, begin, newest - LIMITS.window), newest);
    if (typeof window === 'string') return { ok: false, why: window };
    const reading = readingOf(window, to);
    if (!reading) return { ok: false, why: 'too uncertain' };
    const worst = Math.max(...CORNERS.map((corner) => reading.corners[corner].u));
    if (worst <= LIMITS.surprise) events.learn(fit, window.from, worst);
    else events.forget();
    if (trial.isOn(newest)) return { ok: false, why: 'on trial' };
    return worst <= LIMITS.mostUncertain
      ? { ok: true, reading }
      : { ok: false, why: 'too uncertain' };
  };

  return {
    corners: perCorner((corner) => ({ push: tracks[corner].push, gap: tracks[corner].gap })),
    look,
    restart: () => {
      for (const track of four) track.restart();
      events.forget();
      trial.restart();
      anchor = -Infinity;
      failures = 0;
      fit.shape.set(shapeToBeginWith());
    },
  };
};
