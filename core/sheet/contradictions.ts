import { capital } from '../format/capital.ts';
import { changeText, valueText, type Wanted } from '../format/valueShown.ts';
import type { Car } from './car.ts';
import { itemsById, itemsOf, type Item } from './items.ts';
import { lineOf, targetOf, type SetUpSheet } from './setUpSheet.ts';
import { throughTie, tiesOf, type Tie } from './ties.ts';

/** Targets of a sheet that cannot all hold. */
export interface Contradiction {
  /** The item that disagrees, and those that it disagrees with. */
  readonly items: readonly string[];
  /** The item's target less what the others give, SI; null where it is no difference. */
  readonly difference: number | null;
  /** Not even at the ends of the tolerances. */
  readonly cannotBeMet: boolean;
  /** What disagrees and what to do, for the screen. */
  readonly words: string;
}

const wantedOf = (sheet: SetUpSheet, item: Item): Wanted => ({
  kind: item.quantity,
  unit: lineOf(sheet, item.id)?.unit ?? null,
});

const named = (sheet: SetUpSheet, item: Item): string =>
  item.kind === 'crossShare' ? `${item.label} (${sheet.cross})` : item.label;

const untied = (sheet: SetUpSheet, item: Item, tie: Tie): Contradiction | null => {
  const target = targetOf(sheet, item.id);
  const others = throughTie(tie, (id) => targetOf(sheet, id));
  if (target === null || !others) return null;
  const difference = target - others.value;
  if (Math.abs(difference) <= item.rounding) return null;
  const slack = [...others.slopes].reduce(
    (sum, [id, slope]) => sum + Math.abs(slope) * (lineOf(sheet, id)?.tolerance ?? 0),
    lineOf(sheet, item.id)?.tolerance ?? 0,
  );
  const wanted = wantedOf(sheet, item);
  const cannotBeMet = Math.abs(difference) > slack + item.rounding;
  return {
    items: [item.id, ...others.slopes.keys()],
    difference,
    cannotBeMet,
    words:
      `${capital(named(sheet, item))} is to be ${valueText(wanted, target)}, but ${tie.words} give ` +
      `${valueText(wanted, others.value)} (${changeText(wanted, difference)})` +
      `${cannotBeMet ? '; within their tolerances they cannot all be met' : ''}. Change one of them.`,
  };
};

/** Shares alone say what every corner carries: LF = (front + left − (RF+LR))/2 and so on. */
const emptyCorner = (sheet: SetUpSheet): Contradiction[] => {
  const front = targetOf(sheet, 'frontShare');
  const left = targetOf(sheet, 'leftShare');
  const cross = targetOf(sheet, 'crossShare');
  if (front === null || left === null || cross === null) return [];
  const diagonal = sheet.cross === 'RF+LR' ? cross : 1 - cross;
  const least = Math.min(
    front + left - diagonal,
    front - left + diagonal,
    left - front + diagonal,
    2 - front - left - diagonal,
  );
  if (least > 0) return [];
  return [
    {
      items: ['frontShare', 'leftShare', 'crossShare'],
      difference: null,
      cannotBeMet: true,
      words:
        'Front %, left % and cross % together leave a corner without load. Change one of them.',
    },
  ];
};

const againstRules = (sheet: SetUpSheet, item: Item, car: Car): Contradiction[] => {
  const line = lineOf(sheet, item.id);
  const limit = car.details?.ruleLimits.find((each) => each.item === item.id);
  if (!line || line.target === null || !limit) return [];
  const { target } = line;
  const wanted = wantedOf(sheet, item);
  const breach = (bound: number | null, over: number, what: string): Contradiction[] =>
    bound === null || over <= 1e-9
      ? []
      : [
          {
            items: [item.id],
            difference: target - bound,
            cannotBeMet: true,
            words: `${capital(named(sheet, item))} is to be ${valueText(wanted, target)}; the rules ask for ${what} ${valueText(wanted, bound)}. Change the target, or the limit in the car.`,
          },
        ];
  return [
    ...breach(limit.least, (limit.least ?? 0) - target, 'at least'),
    ...breach(limit.most, target - (limit.most ?? 0), 'at most'),
  ];
};

/** Four corner weights or none: with a part of them nothing can be checked. */
const missingCorners = (sheet: SetUpSheet, items: readonly Item[]): Contradiction[] => {
  const corners = items.filter(({ kind }) => kind === 'weight');
  const missing = corners.filter(({ id }) => targetOf(sheet, id) === null);
  if (missing.length === 0 || missing.length === corners.length) return [];
  return [
    {
      items: missing.map(({ id }) => id),
      difference: null,
      cannotBeMet: false,
      words: `No target for ${missing.map(({ label }) => label).join(', ')}: give all four corner weights or none.`,
    },
  ];
};

/**
 * What disagrees on a sheet: targets that follow from others and do not (total and shares against the
 * corner weights, total toe and thrust angle against the toes, rake against the ride heights), shares
 * that leave a corner in the air, and targets outside the rules. Those that no tolerance saves come
 * first. Items without a target disagree with nothing.
 */
export const contradictionsOf = (sheet: SetUpSheet, car: Car): readonly Contradiction[] => {
  const items = itemsOf(car, sheet.extras);
  const byId = itemsById(items);
  return [
    ...tiesOf(car, sheet.cross).flatMap((tie) => {
      const item = byId.get(tie.item);
      return (item && untied(sheet, item, tie)) ?? [];
    }),
    ...emptyCorner(sheet),
    ...missingCorners(sheet, items),
    ...items.flatMap((item) => againstRules(sheet, item, car)),
  ].toSorted((a, b) => Number(b.cannotBeMet) - Number(a.cannotBeMet));
};
