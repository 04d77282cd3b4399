import { second, type Second } from '../units.ts';

/** After the last change: an outing's captures are copied together. */
export const QUIET = second(5 * 60);
/** A day without five quiet minutes is copied this often all the same. */
export const LONGEST = second(60 * 60);
/** After a copy that could not be made: a stick that comes back is found within this. */
export const AGAIN = second(5 * 60);

/**
 * Whether a copy is to be made now. Seconds since the first change that is in no copy (null: there is
 * none), since the last change, and since the last attempt that failed (null: the last did not).
 */
export const isBackupDue = (since: {
  readonly firstChange: Second | null;
  readonly lastChange: Second;
  readonly failure: Second | null;
}): boolean =>
  since.firstChange !== null &&
  (since.lastChange >= QUIET || since.firstChange >= LONGEST) &&
  (since.failure === null || since.failure >= AGAIN);
