import { CORNERS, type Corner } from '../../../core/corners.ts';

/** The corner to ask for after this one, in order; null when all were asked for. */
export const cornerAfter = (corner: Corner): Corner | null =>
  CORNERS[CORNERS.indexOf(corner) + 1] ?? null;
