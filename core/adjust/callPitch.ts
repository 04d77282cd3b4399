/**
 * Pitch of the sound for a mechanic who cannot see: the nearer the target, the nearer the target's
 * own pitch, which is one octave for each turn away, two at most. Below while turns are left, above
 * once it is passed, so that ear and hand know which way. Range and steepness are ours, no source.
 */

/** Pitch of the target, hertz: a'', well heard beside an air line. */
export const TARGET_PITCH = 880;
const OCTAVES_PER_TURN = 1;
const MOST_OCTAVES = 2;

/** Hertz for the turns that are left; below zero is passed. Throws RangeError on no number. */
export const callPitch = (remainingTurns: number): number => {
  if (Number.isNaN(remainingTurns)) throw new RangeError('not a number of turns');
  const octaves = Math.max(
    -MOST_OCTAVES,
    Math.min(MOST_OCTAVES, remainingTurns * OCTAVES_PER_TURN),
  );
  return TARGET_PITCH * 2 ** -octaves;
};
