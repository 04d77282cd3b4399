import { measured, type Measured } from '../../../core/measured.ts';

/** Standard uncertainty of a ride height by rule or gauge block, metre; common practice, no source. */
const BY_HAND = 2e-4;

/** A ride height as it was typed, metre. */
export const heightByHand = (height: number): Measured => measured(height, BY_HAND, Infinity);
