import type { JointForces } from '../balance/propagate.ts';
import { CORNERS, CORNER_NAMES, perCorner, type Corner, type PerCorner } from '../corners.ts';
import type { Measured } from '../measured.ts';
import type { Adjuster } from './adjuster.ts';
import type { Call } from './call.ts';
import { frictionAsSeats } from './friction.ts';
import type { AdjustReading } from './reading.ts';
import { refused, type AdjustRefusal } from './refusal.ts';
import { effectsAndSlopes, type TurnResponse } from './turnResponse.ts';
import { warpPattern } from './warp.ts';
import { warpDoubt, warpPerTurn, warpWeights } from './warpReading.ts';

export const CALL_VERDICTS = ['not begun', 'under way', 'reached', 'over', 'wrong sense'] as const;
export type CallVerdict = (typeof CALL_VERDICTS)[number];

/** How far a call is, read from the loads alone. */
export interface CallProgress {
  readonly ok: true;
  readonly verdict: CallVerdict;
  /** Turns seen in the direction of the call, and their standard uncertainty. */
  readonly turns: number;
  readonly u: number;
  /** Turns seen over turns called: 0 at the start, 1 at the target, below 0 the wrong way. */
  readonly share: number;
  /** Turns left in the direction of the call; below 0 once it is passed. */
  readonly remaining: number;
  /** Whether the loads resolve a step; if not, the thread decides and the loads only go along. */
  readonly resolves: boolean;
  /**
   * What would show the same pattern. Loads tell the sense, never the corner: for a call on its way
   * the same turns at these corners, the called one first; for a wrong sense what may have been done.
   */
  readonly alike: readonly { readonly corner: Corner; readonly way: 'up' | 'down' }[];
  /** Change of the total, newton, where it is beyond its noise: somebody leans or lifts. */
  readonly hand: number | null;
}

/** Made ready once for a call; the loads then come as they come. */
export interface WatchedCall {
  readonly call: Call;
  readonly response: TurnResponse;
  /** Settled loads before the wrench was put on. */
  readonly before: JointForces;
  readonly stepTurns: number;
  readonly weights: readonly number[];
  /** Warp in newton per turn of the call's corner. */
  readonly perTurn: { readonly value: number; readonly u: number };
  /** What friction may let go of the warp held before, and what it may hold now, newton. */
  readonly letGo: number;
  readonly held: number;
}

/**
 * Makes a call ready to be watched. `friction` is that of each strut at the wheel, newton. Refuses a
 * corner without an adjuster or response, and one whose turns move no load.
 */
export const watchCall = (input: {
  readonly call: Call;
  readonly adjuster: Adjuster | null;
  readonly response: TurnResponse;
  readonly before: AdjustReading;
  readonly friction: PerCorner<number>;
}): WatchedCall | AdjustRefusal => {
  const { call, adjuster, response, before } = input;
  const where = CORNER_NAMES[call.corner];
  if (!adjuster || response.sheetSeatPerTurn[call.corner] === null)
    return refused('no adjusters', `The ${where} has no adjuster. Enter one with the car.`);
  const effects = effectsAndSlopes(response, response.logFactors);
  const perTurn = warpPerTurn(response, call.corner, effects);
  if (!(Math.abs(perTurn.value) > 0))
    return refused(
      'no response',
      `A turn at the ${where} moves no load by the data of the car. Check pitch, motion ratio and rates.`,
    );
  const { car } = response.standing;
  const rates = perCorner(
    (corner, i) => car.wheelRates[corner] * Math.exp(response.logFactors[4 + i] as number),
  );
  const heldWhen = (settled: AdjustReading['settled']): number =>
    Math.hypot(
      ...frictionAsSeats(input.friction, rates, settled).map(
        (seat, i) => seat * (effects.effects[i]?.[0] as number),
      ),
    );
  return {
    call,
    response,
    before: before.loads,
    stepTurns: 1 / adjuster.stepsPerTurn,
    weights: warpWeights(response, response.logFactors),
    perTurn,
    letGo: heldWhen(before.settled),
    held: heldWhen('as it came'),
  };
};

/** Beyond so many standard uncertainties something is taken as seen; two-sided 1 %. */
const SEEN = 2.58;
/** Least part of a turn that is told as movement at all; common practice, no source. */
const LEAST_TURNS = 0.05;

/** Loads now: newton with their standard uncertainty; null where a pad is not live. */
export type LoadsNow = PerCorner<Measured | null>;

/**
 * Progress of a call from the loads before and now: pure, call it with every frame. What is read is
 * the warp, so that a hand on the car counts little. The standard uncertainty holds the noise of
 * both, friction, and what is not known of the response; the last cannot turn the sense round, so a
 * wrong sense is known long before the number of turns is.
 *
 * Refuses while a pad is lost: the call stays, and goes on from the same loads before.
 */
export const callProgress = (watched: WatchedCall, now: LoadsNow): CallProgress | AdjustRefusal => {
  const { call, before, weights, perTurn, stepTurns } = watched;
  const lost = CORNERS.filter((corner) => now[corner] === null);
  if (lost.length > 0)
    return refused(
      'pad lost',
      `The pad at the ${lost.map((corner) => CORNER_NAMES[corner]).join(' and ')} is not live. The call stays and goes on by itself when it is back.`,
    );
  const change = CORNERS.map(
    (corner, i) => (now[corner]?.value ?? 0) - (before.values[i] as number),
  );
  const variance = (over: readonly number[]): number =>
    CORNERS.reduce(
      (sum, corner, i) =>
        sum +
        ((over[i] as number) * (now[corner]?.u ?? 0)) ** 2 +
        over.reduce(
          (s, w, k) => s + (over[i] as number) * w * (before.covariance[i * 4 + k] as number),
          0,
        ),
      0,
    );
  const warp = weights.reduce((sum, w, i) => sum + w * (change[i] as number), 0);
  const noise = Math.hypot(
    Math.sqrt(Math.max(0, variance(weights))),
    warpDoubt(watched.response, change),
  );
  const total = change.reduce((sum, each) => sum + each, 0);
  const way = Math.sign(call.turns);
  const called = Math.abs(call.turns);
  const size = Math.abs(perTurn.value);
  const turns = (way * warp) / perTurn.value;
  // Friction that the turning itself builds up changes how far the loads go, never their sense;
  // only what was held before can do that, when a knock lets it go.
  const seenU = Math.hypot(noise, watched.letGo) / size;
  const u = Math.hypot(noise, watched.held, turns * perTurn.u) / size;
  const beyond = turns - called;
  const half = stepTurns / 2;

  const verdict = (): CallVerdict => {
    if (turns < -LEAST_TURNS && turns < -SEEN * seenU) return 'wrong sense';
    if (beyond > Math.max(half, SEEN * u)) return 'over';
    if (-beyond <= half || (-beyond <= u && turns > SEEN * seenU)) return 'reached';
    return turns > Math.max(LEAST_TURNS, SEEN * seenU) ? 'under way' : 'not begun';
  };
  const found = verdict();
  return {
    ok: true,
    verdict: found,
    turns,
    u,
    share: turns / called,
    remaining: -beyond,
    resolves: u <= half,
    alike: alike(call, watched.response, found === 'wrong sense' ? -1 : 1),
    hand: Math.abs(total) > SEEN * Math.sqrt(Math.max(0, variance([1, 1, 1, 1]))) ? total : null,
  };
};

/** The four turns of one sense: one at each corner, the called corner first. */
const alike = (call: Call, response: TurnResponse, sense: 1 | -1): CallProgress['alike'] => {
  const n = warpPattern(response.standing.car);
  const wanted = sense * Math.sign(call.turns) * Math.sign(n[call.corner]);
  return [call.corner, ...CORNERS.filter((corner) => corner !== call.corner)].map((corner) => ({
    corner,
    way: wanted * Math.sign(n[corner]) > 0 ? 'up' : 'down',
  }));
};
