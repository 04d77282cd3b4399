import type { Limits } from '../contract/calibrationRecord.ts';
import { errorLimit } from './errorLimits.ts';

/** Largest error allowed at a load, kg, by a class or by the crew's own limits; null beyond the class. */
export const limitAt = (limits: Limits, load: number): number | null =>
  limits.is === 'class' ? errorLimit(load, limits) : limits.fixed + limits.share * load;
