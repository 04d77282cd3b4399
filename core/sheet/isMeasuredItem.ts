import type { Item } from './items.ts';
import type { Tie } from './ties.ts';

/** Judged through their ties, or taken out as known masses. */
const NOT_MEASURED: readonly Item['kind'][] = [
  'driver',
  'fuel',
  'ballast',
  'total',
  'frontShare',
  'leftShare',
  'crossShare',
];

/** Whether an item is compared as it was measured: not what follows from others, not the masses put in. */
export const isMeasuredItem = ({ id, kind }: Item, ties: readonly Tie[]): boolean =>
  !NOT_MEASURED.includes(kind) && !ties.some(({ item }) => item === id);
