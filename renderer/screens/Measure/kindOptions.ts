import type { Item } from '../../../core/sheet/items.ts';
import { ITEM_KINDS, type ItemKind } from '../../../core/sheet/itemKinds.ts';

/** Toe is there twice: at ride height, and at others. */
const words = (kind: ItemKind): string =>
  kind === 'bumpSteer' ? 'bump steer' : kind === 'extra' ? 'free items' : ITEM_KINDS[kind].words;

/** Kinds of these items to choose from, with how many each is. */
export const kindOptions = (
  items: readonly Item[],
): readonly { readonly value: ItemKind; readonly text: string }[] =>
  [...Map.groupBy(items, ({ kind }) => kind)].map(([kind, own]) => ({
    value: kind,
    text: own.length === 1 ? words(kind) : `${words(kind)}, ${own.length}`,
  }));
