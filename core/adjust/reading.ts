import type { JointForces } from '../balance/propagate.ts';
import type { Measured } from '../measured.ts';

/** A settled reading: what a plan begins from and a response is learnt from. */
export interface AdjustReading {
  /** Newton, with the covariance of all that differs from one lowering or settling to the next. */
  readonly loads: JointForces;
  /** m/s² at the venue. */
  readonly gravity: number;
  /** Metre, in the order of the points they belong to; null where not measured this time. */
  readonly heights: readonly (Measured | null)[];
  /** How the car came to rest: friction is let go by a bounce or by raising and lowering. */
  readonly settled: 'bounced' | 'as it came';
}
