import type { Refusal } from '../contract/commands.ts';
import { CORNERS, CORNER_NAMES, type Corner, type PerCorner } from '../corners.ts';
import { capital } from '../format/capital.ts';
import { isLive, isOverloaded, type PadFeed } from './padFeed.ts';
import type { StillnessNow } from './stillness.ts';

/** What stands in the way of measuring all four corners, the first thing first; null is nothing. */
export type NotReady = Refusal | null;

/** Four still pads that carry no car. */
export const NOTHING_THERE: Refusal = {
  why: 'Nothing stands on the pads.',
  next: 'Lower the car, then capture.',
  corner: null,
};

const Name = (corner: Corner): string => {
  const name = CORNER_NAMES[corner];
  return capital(name);
};

const first = (
  look: (corner: Corner) => { readonly why: string; readonly next: string } | null,
): NotReady => {
  for (const corner of CORNERS) {
    const found = look(corner);
    if (found) return { ...found, corner };
  }
  return null;
};

const notLive = (under: PerCorner<PadFeed | null>, t: number): NotReady =>
  first((corner) => {
    const feed = under[corner];
    if (!feed)
      return { why: `${Name(corner)}: no pad is there.`, next: 'Give it one on the Pads screen.' };
    if (feed.lastAt === null || feed.calibration === null)
      return {
        why: `${Name(corner)}: nothing heard from ${feed.serial} yet.`,
        next: 'Wait for it, or look at the Pads screen.',
      };
    if (!isLive(feed, t))
      return {
        why: `${Name(corner)}: nothing heard for ${(t - feed.lastAt).toFixed(1)} s.`,
        next: 'It is being looked for; see the Pads screen.',
      };
    if (isOverloaded(feed))
      return {
        why: `${Name(corner)}: more than ${feed.serial} can weigh.`,
        next: 'Take the load off and check the pad’s rating.',
      };
    return null;
  });

const notZeroed = (under: PerCorner<PadFeed | null>): NotReady =>
  first((corner) =>
    under[corner]?.zero
      ? null
      : {
          why: `${Name(corner)} has no zero.`,
          next: 'Raise the car clear of the pads and press Zero.',
        },
  );

const notSettled = (stillness: StillnessNow): NotReady =>
  first((corner) =>
    stillness.corners[corner] === 'settled'
      ? null
      : { why: `${Name(corner)} has not settled.`, next: 'Wait; nobody touching the car.' },
  ) ??
  (stillness.all === 'settled'
    ? null
    : {
        why: 'The four corners are not still together yet.',
        next: 'Wait a moment.',
        corner: null,
      });

/** Whether a zero may be taken: four live pads that lie still. */
export const notReadyToZero = (
  under: PerCorner<PadFeed | null>,
  stillness: StillnessNow,
  t: number,
): NotReady => notLive(under, t) ?? notSettled(stillness);

/** Whether a capture may be taken: four live, zeroed pads that lie still. */
export const notReadyToCapture = (
  under: PerCorner<PadFeed | null>,
  stillness: StillnessNow,
  t: number,
): NotReady => notLive(under, t) ?? notZeroed(under) ?? notSettled(stillness);

/** The same without waiting for the car to be still: for where it is going to settle. */
export const notReadyToCaptureEarly = (under: PerCorner<PadFeed | null>, t: number): NotReady =>
  notLive(under, t) ?? notZeroed(under);
