import type { STILLNESS } from '../../core/contract/events.ts';

/** Ripples, a low swell, a level line, on 36 × 20: told apart without colour. */
export const STILLNESS_SHAPES: Readonly<Record<(typeof STILLNESS)[number], string>> = {
  moving: 'M2 10q4 -13 8 0t8 0t8 0t8 0',
  calming: 'M2 10q8 -6 16 0t16 0',
  settled: 'M2 10h32',
};
