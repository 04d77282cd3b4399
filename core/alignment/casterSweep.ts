import type { Measured } from '../measured.ts';
import { found, refused, tooUncertain, type Outcome, type Refused } from './outcome.ts';
import { propagated, propagatedJointly } from './propagated.ts';
import { cross, spinAxis, type Vector } from './turnedWheel.ts';

/** One end of the sweep: what the turn plate shows from straight ahead, above zero, and the camber. */
export interface SweepEnd {
  readonly steer: Measured;
  readonly camber: Measured;
}

/** Camber of one wheel at both ends of a sweep on turn plates, rad. */
export interface Sweep {
  /** The wheel turned so that its front points outboard: the left wheel to the left. */
  readonly toedOut: SweepEnd;
  readonly toedIn: SweepEnd;
  /** Straight ahead; null where it was not read: then only the trade's formula is left. */
  readonly straight: { readonly camber: Measured; readonly toe: Measured } | null;
}

export interface Caster {
  /** Rad, positive where the axis leans back: from all three positions where there are three. */
  readonly caster: Measured;
  /** Rad, positive where the axis leans inboard; null without the wheel straight ahead. */
  readonly inclination: Measured | null;
  /** By the trade's formula from the two ends. */
  readonly byFormula: Measured;
}

/** A smaller sweep divides the gauge's scatter by too little; a larger one no rack reaches. */
const LEAST_STEER = (5 * Math.PI) / 180;
const MOST_STEER = (50 * Math.PI) / 180;
/** Outside of it the cambers do not belong together. Common practice, no source. */
const MOST_CASTER = (20 * Math.PI) / 180;
const MOST_INCLINATION = (30 * Math.PI) / 180;

/**
 * (camber toed-out − camber toed-in)/(sin of the one steer + sin of the other). Against the exact axis it
 * errs by up to 0.11° at 6° of caster, 0.24° at 10° and 0.46° at 14° (camber −5° to 2°, inclination to 16°).
 */
const casterByFormula = (
  toedOut: { readonly steer: number; readonly camber: number },
  toedIn: { readonly steer: number; readonly camber: number },
): number => (toedOut.camber - toedIn.camber) / (Math.sin(toedOut.steer) + Math.sin(toedIn.steer));

/**
 * Steering axis from the wheel's own axis in three positions: turned about the steering axis its tip
 * runs on a circle, and the axis stands square to the plane of that circle. Exact for any angles.
 */
const axisThrough = (straight: Vector, out: Vector, inward: Vector): readonly [number, number] => {
  const from = (v: Vector): Vector => [v[0] - straight[0], v[1] - straight[1], v[2] - straight[2]];
  const [x, y, z] = cross(from(out), from(inward));
  return [Math.atan(-x / z), Math.atan(-y / z)];
};

/**
 * Caster, and steering-axis inclination, of one wheel from a camber sweep. The inclination comes from
 * how camber bends over the sweep, (1 − cos) where caster has sin: at ±20° a gauge error counts some
 * twenty times in it, and its uncertainty says so; a level on the wheel with the brake held is better.
 */
export const casterSweep = ({ toedOut, toedIn, straight }: Sweep): Outcome<Caster> => {
  for (const { steer, camber } of [toedOut, toedIn]) {
    const refusal = unusable(steer.value, camber.value);
    if (refusal) return refusal;
  }
  const ends = [toedOut.steer, toedOut.camber, toedIn.steer, toedIn.camber];
  const byFormula = propagated(ends, ([so = 0, co = 0, si = 0, ci = 0]) =>
    casterByFormula({ steer: so, camber: co }, { steer: si, camber: ci }),
  );
  if (!byFormula) return tooUncertain;
  const disagreement = (): Refused =>
    refused(
      'These cambers do not belong to one steering axis.',
      'Repeat the sweep: which reading belongs to which turn, and their signs.',
    );
  if (Math.abs(byFormula.value) > MOST_CASTER) return disagreement();
  if (!straight)
    return found({ caster: byFormula, inclination: null, byFormula }, [
      'Read the wheel straight ahead too: then caster is exact and the inclination comes with it.',
    ]);

  const joint = propagatedJointly(
    [...ends, straight.camber, straight.toe],
    ([so = 0, co = 0, si = 0, ci = 0, camber = 0, toe = 0]) =>
      axisThrough(
        spinAxis({ camber, toe }),
        spinAxis({ camber: co, toe: toe - so }),
        spinAxis({ camber: ci, toe: toe + si }),
      ),
  );
  const [caster, inclination] = joint?.values ?? [];
  if (!caster || !inclination) return tooUncertain;
  if (
    Math.abs(caster.value) > MOST_CASTER ||
    Math.abs(inclination.value) > MOST_INCLINATION + 3 * inclination.u
  )
    return disagreement();
  return found({ caster, inclination, byFormula });
};

const unusable = (steer: number, camber: number): Refused | null => {
  if (!(steer >= LEAST_STEER))
    return refused(
      'The wheel was turned by less than five degrees from straight ahead.',
      'Turn it further, both ways: twenty degrees is usual. Type both turns without a sign.',
    );
  if (!(steer <= MOST_STEER))
    return refused('No steering turns that far.', 'Read the turn plate again.');
  if (!(Math.abs(camber) < MOST_INCLINATION))
    return refused('No wheel stands at such a camber.', 'Read again and look at the unit.');
  return null;
};
