import type { CornerLive, Frame } from '../../core/contract/events.ts';
import { perCorner } from '../../core/corners.ts';
import { LIVE_FOR } from '../../core/reading.ts';

const agedCorner = (corner: CornerLive, silent: number): CornerLive => {
  if (corner.age === null) return corner;
  const age = corner.age + silent;
  if (corner.status !== 'live' || age <= LIVE_FOR) return { ...corner, age };
  return { ...corner, status: 'stale', stillness: null, age };
};

/**
 * The frame as it must be shown after so many seconds without a newer one: whoever has fallen
 * silent (pad, bench, socket), what is older than the limit is not live. Numbers are kept, to be shown
 * as old.
 */
export const ageFrame = (frame: Frame, silent: number): Frame => {
  const corners = perCorner((corner) => agedCorner(frame.corners[corner], silent));
  const stillLive = Object.values(corners).every((corner) => corner.status === 'live');
  if (stillLive) return { ...frame, corners };
  return {
    ...frame,
    corners,
    stillness: null,
    settledFor: 0,
    early: null,
    notReady: frame.notReady ?? 'Not all four corners are live.',
  };
};
