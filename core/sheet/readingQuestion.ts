import { fieldQuestion, type FieldQuestion } from '../alignment/fieldQuestion.ts';
import type { Measured } from '../measured.ts';
import type { Item } from './items.ts';
import { itemValue, type ValueSources } from './itemValue.ts';
import { lineOf, type SetUpSheet } from './setUpSheet.ts';
import { standingOf } from './stale.ts';

const quantityOf = ({ quantity }: Item): 'length' | 'angle' | 'mass' | 'other' =>
  quantity === 'length' || quantity === 'angle' || quantity === 'mass' ? quantity : 'other';

/** The last reading of an item that the next one should repeat; null where there is none. */
const lastOf = (
  item: Item,
  sources: ValueSources,
): { readonly value: Measured; readonly isRepeat: boolean } | null => {
  if (standingOf(sources.record, item).fresh.length === 0) return null;
  const value = itemValue(item.id, sources);
  return value.is === 'measured' ? { value: value.value, isRepeat: true } : null;
};

/** The same item in the record before, where that was made on the same wheels. */
const beforeOf = (
  item: Item,
  sources: ValueSources,
  before: ValueSources | null,
): Measured | null => {
  if (!before || standingOf(sources.record, item).disturbedBy) return null;
  if (before.record.state.wheels !== sources.record.state.wheels) return null;
  const value = itemValue(item.id, before);
  return value.is === 'measured' && !value.stale ? value.value : null;
};

/**
 * Whether a reading that was just typed is to be asked about: against the readings of this record that
 * it repeats, and where there are none, against its target and the record before. A repeat that agrees
 * with the first is not asked about, however far both are from the target: it is the answer. Nothing is
 * held against readings from before work that may have moved the item.
 */
export const readingQuestion = (
  item: Item,
  about: {
    readonly reading: Measured;
    readonly sources: ValueSources;
    readonly before: ValueSources | null;
    readonly sheet: SetUpSheet | null;
  },
): FieldQuestion | null => {
  const { reading, sources, before, sheet } = about;
  const line = sheet && lineOf(sheet, item.id);
  const target =
    line && line.target !== null && line.tolerance !== null
      ? { value: line.target, tolerance: line.tolerance }
      : null;
  const own = lastOf(item, sources);
  const last = own?.value ?? beforeOf(item, sources, before);
  const question = fieldQuestion({ quantity: quantityOf(item), reading, target, last });
  return own && question?.farFrom === 'its target' ? null : question;
};
