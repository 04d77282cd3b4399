/**
 * What is undone before a set-up car rolls, each a thing that has been forgotten. The list is common
 * practice, no source.
 */
export const BACK_TO_RUNNING = [
  'bars reconnected',
  'lock-rings and locknuts tight',
  'steering pin out',
  'pedal depressor out',
  'dampers back',
  'set-up wheels off',
  'wheel nuts tight',
  'ballast fixed',
] as const;
export type RunningItem = (typeof BACK_TO_RUNNING)[number];

export const RUNNING_ANSWERS = ['done', 'not on this car'] as const;
export type RunningAnswer = (typeof RUNNING_ANSWERS)[number];
