import { targetAnswer } from '../answers/targetAnswer.ts';
import { commonLowering } from '../compare/commonLowering.ts';
import { compareItems } from '../compare/compareItems.ts';
import type { ComparedItem, DerivedItem } from '../compare/comparisonInput.ts';
import { comparableStates } from './comparableStates.ts';
import {
  standingAsWeighed,
  type RecordComparison,
  type RecordsCompared,
} from './compareRecords.ts';
import { isMeasuredItem } from './isMeasuredItem.ts';
import { readerOf, recordNoise } from './recordNoise.ts';
import { lineOf, type SetUpSheet } from './setUpSheet.ts';
import { throughTie } from './ties.ts';

/**
 * A record against what its sheet wants. A target has no scatter and no gauge: the doubt is that of the
 * record alone, the errors of its gauges in full. Where the sheet asks for another fuel, driver or ballast
 * than the record had, their effect is taken out by place.
 */
export const compareTarget = (
  input: Pick<RecordsCompared, 'car' | 'after' | 'repeat' | 'gravity'> & {
    readonly sheet: SetUpSheet;
  },
): RecordComparison => {
  const { car, after, sheet, repeat } = input;
  const is = readerOf(after);
  const wanted = {
    ...after,
    record: { ...after.record, entries: [], state: sheet.state, represented: sheet.represented },
  };
  const states = comparableStates({
    car,
    before: wanted,
    after,
    standing: standingAsWeighed(input, is),
  });
  const targetOf = (id: string): number | null => lineOf(sheet, id)?.target ?? null;
  const limitOf = (id: string): number | null => lineOf(sheet, id)?.tolerance ?? null;
  const carrying = new Set(
    after.ties
      .filter(({ item }) => targetOf(item) !== null)
      .flatMap(({ of, over }) => [...of.map(({ item }) => item), ...over]),
  );
  const measuredItems = [...after.items.values()].filter(
    (item) =>
      isMeasuredItem(item, after.ties) && (targetOf(item.id) !== null || carrying.has(item.id)),
  );
  const values = measuredItems.map(({ id }) => ({ before: null, after: is(id) }));
  const items = measuredItems.map(({ id }): ComparedItem => ({
    id,
    // What has no target of its own and carries one, such as a total, stands where it is.
    before: targetOf(id) ?? is(id)?.value.value ?? null,
    after: is(id)?.value.value ?? null,
    limit: limitOf(id),
  }));
  const derived = after.ties.flatMap((tie): DerivedItem[] => {
    const target = targetOf(tie.item);
    const now = throughTie(tie, (id) => is(id)?.value.value ?? null);
    if (!now || target === null) return [];
    return [
      {
        id: tie.item,
        before: target,
        after: now.value,
        limit: limitOf(tie.item),
        slopes: items.map(({ id }) => now.slopes.get(id) ?? 0),
      },
    ];
  });
  const noise = recordNoise(measuredItems, values, {
    repeat: repeat ?? commonLowering(car),
    laying: null,
    isRelaid: false,
  });
  const sharedBy = (index: number): number =>
    [...(values[index]?.after?.shared.values() ?? [])].reduce((sum, { u }) => sum + u * u, 0);
  const all = compareItems({
    items,
    derived,
    noise: {
      ...noise,
      unshared: items.map((_, i) => items.map((_unused, j) => (i === j ? sharedBy(i) : 0))),
      readings: noise.readings.map((each) => ({ ...each, before: Infinity })),
    },
    known: [],
    states: states.differences,
  });
  const comparison = {
    ...all,
    items: all.items.filter(({ id }) => targetOf(id) !== null),
    notCompared: all.notCompared.filter(({ id }) => targetOf(id) !== null),
  };
  return {
    states,
    comparison,
    causes: null,
    ruledOut: [],
    answer: targetAnswer({
      comparison,
      isCommonScatter: repeat === null,
      itemName: (id) => after.items.get(id)?.label ?? id,
    }),
  };
};
