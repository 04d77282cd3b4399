import type { Measured } from '../measured.ts';
import { findRoot } from '../statistics/findRoot.ts';
import { found, refused, tooUncertain, type Outcome } from './outcome.ts';
import { propagated } from './propagated.ts';
import { turnedWheel, turnForSteer } from './turnedWheel.ts';

/** A level along the wheel at one end of the sweep, rad. */
export interface LevelEnd {
  /** What the turn plate shows from straight ahead, above zero. */
  readonly steer: Measured;
  /** Front of the level up positive; set to zero with the wheel straight ahead. */
  readonly level: Measured;
}

const MOST_INCLINATION = (40 * Math.PI) / 180;

/**
 * Steering-axis inclination from a level held along the wheel, the brake on so that the wheel cannot
 * roll in its upright: turned out its front rises, turned in it sinks, by nearly the inclination times
 * the sine of the steer. Solved on the exact rotation, caster, camber and toe being known.
 */
export const inclinationByLevel = (input: {
  readonly toedOut: LevelEnd;
  readonly toedIn: LevelEnd;
  readonly brakeHeld: boolean;
  readonly caster: Measured;
  readonly straight: { readonly camber: Measured; readonly toe: Measured };
}): Outcome<Measured> => {
  const { toedOut, toedIn, straight } = input;
  if (!input.brakeHeld)
    return refused(
      'The wheel could roll while it was turned, and the level with it.',
      'Hold the brake down and repeat the sweep.',
    );
  for (const { steer } of [toedOut, toedIn])
    if (!(steer.value >= 0.08 && steer.value <= 0.9))
      return refused(
        'The steer must lie between five and fifty degrees.',
        'Turn the wheel by about twenty degrees each way and type both without a sign.',
      );
  const inputs = [
    toedOut.steer,
    toedOut.level,
    toedIn.steer,
    toedIn.level,
    input.caster,
    straight.camber,
    straight.toe,
  ];
  const solve = (x: readonly number[]): number => {
    const [so = 0, lo = 0, si = 0, li = 0, caster = 0, camber = 0, toe = 0] = x;
    const attitude = { camber, toe };
    const difference = (inclination: number): number => {
      const axis = { caster, inclination };
      const levelAt = (steer: number): number => {
        const turn = turnForSteer(axis, attitude, steer);
        return turn === null ? Number.NaN : turnedWheel(axis, attitude, turn).level;
      };
      return levelAt(so) - levelAt(-si) - (lo - li);
    };
    if (!(difference(-MOST_INCLINATION) * difference(MOST_INCLINATION) < 0)) return Number.NaN;
    return findRoot(difference, -MOST_INCLINATION, MOST_INCLINATION);
  };
  if (!Number.isFinite(solve(inputs.map(({ value }) => value))))
    return refused(
      'No steering axis leans that far.',
      'Repeat the sweep: front up is positive, and which reading belongs to which turn.',
    );
  const inclination = propagated(inputs, solve);
  return inclination ? found(inclination) : tooUncertain;
};
