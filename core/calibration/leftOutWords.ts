import type { LeftOut } from '../contract/calibrationRecord.ts';

/** Why a point was left out of a curve. */
export const LEFT_OUT_WORDS: Readonly<Record<LeftOut, string>> = {
  'other pad': 'of another pad',
  saturated: 'converter at its end',
  overloaded: 'above the rated load',
  elsewhere: 'load rose on another pad',
  'read again': 'read again, for creep',
};
