import { walkAsWalked, type CarRecord } from './carRecord.ts';
import type { Item } from './items.ts';
import type { ItemKind } from './itemKinds.ts';
import type { SetUpSheet } from './setUpSheet.ts';
import { isTyped, walkOf } from './walk.ts';

/** What is read where nobody has said what: common practice, no source. */
const USUAL: readonly ItemKind[] = ['height', 'camber', 'toe'];

/**
 * The walk with which a record begins: the crew's last one. With a sheet it is an order only, for the
 * sheet says what is asked; without one it says that too, and where there was none it is the usual round.
 */
export const firstWalk = (
  items: readonly Item[],
  about: { readonly sheet: SetUpSheet | null; readonly before: CarRecord | null },
): readonly string[] => {
  const { sheet, before } = about;
  const walked = before ? walkAsWalked(before) : [];
  if (sheet) return walked.filter((id) => sheet.lines.some(({ item }) => item === id));
  const known = walked.filter((id) => items.some((item) => item.id === id));
  if (known.length > 0) return known;
  return walkOf(
    items.filter(({ kind }) => USUAL.includes(kind)),
    [],
  ).map(({ id }) => id);
};

/** Items of a record: those of its sheet, those that its crew put into the walk, and those that were read. */
export const askedItems = (
  items: readonly Item[],
  about: { readonly record: CarRecord; readonly sheet: SetUpSheet | null },
): readonly Item[] => {
  const { record, sheet } = about;
  const asked = new Set([
    ...(sheet?.lines.map(({ item }) => item) ?? []),
    ...record.walk,
    ...record.entries.flatMap((entry) => (entry.is === 'reading' ? [entry.item] : [])),
  ]);
  return items.filter(({ id }) => asked.has(id));
};

/** What of a record is typed, in the order of the walk. */
export const walkOfRecord = (
  items: readonly Item[],
  about: { readonly record: CarRecord; readonly sheet: SetUpSheet | null },
): readonly Item[] => walkOf(askedItems(items, about).filter(isTyped), about.record.walk);
