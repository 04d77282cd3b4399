import { valueText } from '../format/valueShown.ts';
import type { Car } from './car.ts';
import { CAR_STATE_ITEMS } from './carState.ts';
import { itemsById, itemsOf, type Item } from './items.ts';
import { lineOf, type SetUpSheet } from './setUpSheet.ts';

/** One thing in which two versions of a sheet differ. */
export interface SheetChange {
  readonly what:
    | 'target'
    | 'tolerance'
    | 'unit'
    | 'line added'
    | 'line removed'
    | 'free items'
    | 'cross diagonal'
    | 'state'
    | 'represented'
    | 'order of work'
    | 'name'
    | 'notes';
  /** Item of the sheet, where it is about one. */
  readonly item: string | null;
  /** In SI where they are numbers; null where there was or is none. */
  readonly before: number | string | null;
  readonly after: number | string | null;
  /** One line: "left front camber: target −2.50° → −2.70°". */
  readonly words: string;
}

const sayer =
  (item: Item | undefined, unit: string | null) =>
  (value: number | null): string =>
    value === null ? 'none' : valueText({ kind: item?.quantity ?? 'number', unit }, value);

/** What two lines of one item differ in; one of them may be missing. */
const lineChanges = (
  id: string,
  about: {
    readonly before: SetUpSheet;
    readonly after: SetUpSheet;
    readonly item: Item | undefined;
  },
): SheetChange[] => {
  const [before, after] = [lineOf(about.before, id), lineOf(about.after, id)];
  const label = about.item?.label ?? id;
  const say = sayer(about.item, after?.unit ?? before?.unit ?? null);
  if (!before || !after) {
    const line = before ?? after;
    const is = before ? 'removed' : 'added';
    return [
      {
        what: before ? 'line removed' : 'line added',
        item: id,
        before: before?.target ?? null,
        after: after?.target ?? null,
        words: `${label}: ${is}, target ${say(line?.target ?? null)}`,
      },
    ];
  }
  const changed = (['target', 'tolerance'] as const)
    .filter((what) => before[what] !== after[what])
    .map((what): SheetChange => ({
      what,
      item: id,
      before: before[what],
      after: after[what],
      words: `${label}: ${what} ${say(before[what])} → ${say(after[what])}`,
    }));
  if (before.unit === after.unit) return changed;
  const [old, now] = [before.unit ?? 'as set', after.unit ?? 'as set'];
  return [
    ...changed,
    { what: 'unit', item: id, before: old, after: now, words: `${label}: unit ${old} → ${now}` },
  ];
};

const differing = (
  what: SheetChange['what'],
  label: string,
  values: readonly [number | string | null, number | string | null],
): SheetChange[] => {
  const [before, after] = values;
  if (before === after) return [];
  const words = `${label}: ${before ?? 'not stated'} → ${after ?? 'not stated'}`;
  return [{ what, item: null, before, after, words }];
};

/**
 * What a version of a sheet changes against another one, in the order of the sheet: targets and
 * tolerances first, then how the car is to be measured. Numbers are compared exactly: what was not
 * touched is the same. Where the diagonal of the cross weight changes, its target is said as it stands.
 */
export const sheetDiff = (
  before: SetUpSheet,
  after: SetUpSheet,
  car: Car,
): readonly SheetChange[] => {
  const byId = itemsById(itemsOf(car, [...before.extras, ...after.extras]));
  const known = [...byId.keys()];
  const place = (id: string): number => (known.includes(id) ? known.indexOf(id) : known.length);
  const ids = [...new Set([...before.lines, ...after.lines].map(({ item }) => item))].toSorted(
    (a, b) => place(a) - place(b),
  );
  const list = (sheet: SetUpSheet): string => sheet.extras.map(({ label }) => label).join(', ');
  return [
    ...ids.flatMap((id) => lineChanges(id, { before, after, item: byId.get(id) })),
    ...differing('free items', 'free items', [list(before), list(after)]),
    ...differing('cross diagonal', 'cross % is', [before.cross, after.cross]),
    ...CAR_STATE_ITEMS.flatMap(({ item, label }) =>
      differing('state', label, [before.state[item], after.state[item]]),
    ),
    ...(['driver', 'fuel', 'ballast'] as const).flatMap((what) =>
      differing('represented', `${what} represented by`, [
        before.represented[what],
        after.represented[what],
      ]),
    ),
    ...differing('order of work', 'order of work', [
      before.order.join(', '),
      after.order.join(', '),
    ]),
    ...differing('name', 'name', [before.name, after.name]),
    ...(before.notes === after.notes
      ? []
      : differing('notes', 'notes', [before.notes, after.notes]).map((change) => ({
          ...change,
          words: 'notes changed',
        }))),
  ];
};
