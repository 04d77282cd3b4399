import type { KeptOf } from '../contract/kept.ts';
import type { Capture } from '../contract/records.ts';

/**
 * The survey that the patch under a capture stands on: the newest at its venue that was stored before it,
 * with or without the car. Null where there was none: then how flat the ground was is not known.
 */
export const surveyOf = (
  { venueId, takenAt }: Pick<Capture, 'venueId' | 'takenAt'>,
  surveys: readonly KeptOf<'patch survey'>[],
): KeptOf<'patch survey'> | null =>
  surveys.findLast(({ at, survey }) => survey.venueId === venueId && at <= takenAt) ?? null;
