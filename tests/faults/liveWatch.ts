import type { Frame } from '../../core/contract/events.ts';
import { CORNERS, perCorner, type Corner, type PerCorner } from '../../core/corners.ts';

/**
 * Judges every frame against what was really heard. A reading is live for half a second after its
 * pad was heard (core/contract/events.ts); a frame may be a period of the clock older than that.
 */
const LIVE_FOR = 0.5;
const SLACK = 0.03;

export interface LiveWatch {
  /** A notification of the pad of this corner was handed on, at true time `t`. */
  heard(corner: Corner, t: number): void;
  frame(frame: Frame, t: number): void;
  /** Counts anew from here. */
  begin(): void;
  readonly frames: number;
  readonly staleAsLive: number;
  /** Share of frames in which the corner was live. */
  liveShare(corner: Corner): number;
  longestSilence(corner: Corner): number;
}

/** True where the frame says anything of the corner as it is now. */
const saysNow = (frame: Frame, corner: Corner): boolean =>
  frame.corners[corner].status === 'live' ||
  frame.corners[corner].mean !== null ||
  frame.stillness !== null ||
  frame.balance !== null ||
  frame.early !== null ||
  frame.notReady === null;

/** Makes one that has heard nothing. */
export const createLiveWatch = (): LiveWatch => {
  const last = new Map<Corner, number>();
  let frames = 0;
  let staleAsLive = 0;
  let live: Record<Corner, number> = { ...perCorner(() => 0) };
  let silence: Record<Corner, number> = { ...perCorner(() => 0) };
  const silentFor = (corner: Corner, t: number): number => t - (last.get(corner) ?? -Infinity);
  return {
    heard: (corner, t) => {
      silence[corner] = Math.max(silence[corner], last.has(corner) ? silentFor(corner, t) : 0);
      last.set(corner, t);
    },
    frame: (frame, t) => {
      frames += 1;
      for (const corner of CORNERS) if (frame.corners[corner].status === 'live') live[corner] += 1;
      const isWrong = (corner: Corner): boolean =>
        silentFor(corner, t) > LIVE_FOR + SLACK && saysNow(frame, corner);
      if (CORNERS.some(isWrong)) staleAsLive += 1;
    },
    begin: () => {
      frames = 0;
      staleAsLive = 0;
      live = { ...perCorner(() => 0) };
      silence = { ...perCorner(() => 0) } satisfies PerCorner<number>;
    },
    get frames() {
      return frames;
    },
    get staleAsLive() {
      return staleAsLive;
    },
    liveShare: (corner) => (frames === 0 ? Number.NaN : live[corner] / frames),
    longestSilence: (corner) => silence[corner],
  };
};
