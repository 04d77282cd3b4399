import type { Capture, CrossDiagonal } from '../contract/records.ts';
import type { Measured } from '../measured.ts';
import type { Item } from './items.ts';

/** A share of the one diagonal as that of the other. */
const inDiagonal = (share: Measured, from: CrossDiagonal, to: CrossDiagonal): Measured =>
  from === to ? share : { ...share, value: 1 - share.value };

/** What a capture says of an item, cross % for the diagonal asked for; null where it says nothing. */
export const captureValue = (
  { corners, balance }: Capture,
  item: Item,
  cross: CrossDiagonal,
): Measured | null => {
  switch (item.kind) {
    case 'weight':
      return item.corner && corners[item.corner].mass;
    case 'total':
      return balance.total;
    case 'frontShare':
      return balance.frontShare;
    case 'leftShare':
      return balance.leftShare;
    case 'crossShare':
      return inDiagonal(balance.crossShare, balance.cross, cross);
    default:
      return null;
  }
};
