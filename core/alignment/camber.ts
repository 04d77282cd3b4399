import type { Measured } from '../measured.ts';
import { found, refused, tooUncertain, type Outcome } from './outcome.ts';
import { propagatedJointly } from './propagated.ts';

/** What the gauge calls upright: a true vertical, or square to the patch it was zeroed on. */
const GAUGE_DATUMS = ['gravity', 'patch'] as const;
export type GaugeDatum = (typeof GAUGE_DATUMS)[number];

/** One wheel's camber as it is read. Angles in rad, negative where the top leans inboard. */
export interface CamberReading {
  readonly side: 'left' | 'right';
  readonly reading: Measured;
  /** Read again with the gauge turned round, its other face to the wheel; null where it was not. */
  readonly turned: Measured | null;
  /** What the gauge reads where it should read nothing; null where that was not looked up. */
  readonly zero: Measured | null;
  readonly datum: GaugeDatum;
  /**
   * Slope of the patch at this wheel across the car, rad, positive where it rises to the left: against
   * the horizontal for a gauge that goes by gravity, against where the gauge was zeroed for one that
   * goes by the patch. Null where it is not known.
   */
  readonly slope: Measured | null;
}

export interface Camber {
  readonly camber: Measured;
  /** What the result is measured against: the patch, once its slope was taken out. */
  readonly datum: GaugeDatum;
  /** What the gauge reads too much; null where neither a zero nor a turned reading tells. */
  readonly bias: Measured | null;
}

/** No car wears its wheels like this: a slip, not a setting. Common practice, no source. */
const MOST_CAMBER = (15 * Math.PI) / 180;
/** A gauge this far out was not turned round, or is broken. Common practice, no source. */
const MOST_BIAS = (2 * Math.PI) / 180;
const COVERAGE = 3;

/**
 * Camber of one wheel. Turned round, a gauge reads the wheel with the other sign and its own bias with
 * the same, so half the difference is free of the bias and half the sum is the bias. Ground that rises
 * to the left leans the whole car to the right: the left wheel reads that much more negative by gravity,
 * the right one that much more positive.
 */
export const camber = (input: CamberReading): Outcome<Camber> => {
  const { side, reading, turned, zero, datum, slope } = input;
  const outward = side === 'left' ? 1 : -1;
  const given = [reading, turned ?? zero, slope].filter((each) => each !== null);
  const joint = propagatedJointly(given, (x) => {
    const [read = 0] = x;
    const second = turned || zero ? (x[1] as number) : 0;
    const lean = slope ? outward * (x.at(-1) as number) : 0;
    const bias = turned ? (read + second) / 2 : second;
    return [read - bias + lean, bias];
  });
  const [angle, bias] = joint?.values ?? [];
  if (!angle || !bias) return tooUncertain;
  if (Math.abs(angle.value) > MOST_CAMBER)
    return refused(
      'No wheel stands at such a camber.',
      'Read again and look at the unit: degrees, or minutes of arc.',
    );
  const warnings: string[] = [];
  if (turned && Math.abs(bias.value) > MOST_BIAS)
    warnings.push(
      'The two readings differ in more than their sign: turn the gauge round between them, its other face to the wheel.',
    );
  if (turned && zero && Math.abs(bias.value - zero.value) > COVERAGE * Math.hypot(bias.u, zero.u))
    warnings.push(
      'The zero that was noted is not the one that the turned reading shows; the turned reading was used. Zero the gauge again.',
    );
  if (!turned && !zero)
    warnings.push('The zero of the gauge is not in this: read it turned round too, or look it up.');
  if (datum === 'gravity' && !slope)
    warnings.push(
      'This camber is against the vertical: on a patch that is not level it is not that against the ground.',
    );
  return found(
    { camber: angle, datum: slope ? 'patch' : datum, bias: turned || zero ? bias : null },
    warnings,
  );
};
