import type { Capture } from '../contract/records.ts';
import { CORNER_NAMES, CORNERS, type Corner } from '../corners.ts';
import type { CarRecord } from './carRecord.ts';
import { impossibleValue } from './impossibleValue.ts';
import type { Item } from './items.ts';
import { mixedUp } from './mixedUp.ts';
import { targetOf, type SetUpSheet } from './setUpSheet.ts';

/**
 * What a file says that cannot be so though its form is right: units mixed up, numbers that no car has,
 * corners left out. Each gives the reason in words, or null.
 */

const asMass = (value: number, expected: number): string | null =>
  mixedUp(value, { kind: 'mass', field: null, expected, possible: [0, Infinity] })?.words ?? null;

const ACROSS: Readonly<Record<Corner, Corner>> = { LF: 'RF', RF: 'LF', LR: 'RR', RR: 'LR' };

/** Mass that differs by more than this share from force over gravity was not made from it. */
const SAME_MASS = 1e-3;

/** A capture's masses must be its forces over its gravity. */
export const captureWrong = ({ corners, gravity }: Capture): string | null => {
  for (const corner of CORNERS) {
    const { force, mass } = corners[corner];
    const expected = force.value / gravity;
    if (Math.abs(mass.value - expected) <= SAME_MASS * Math.max(1, Math.abs(expected))) continue;
    const guess = asMass(mass.value, expected);
    return `${CORNER_NAMES[corner]}: ${mass.value} kg is not its force over gravity, ${expected.toFixed(2)} kg. ${guess ?? 'Correct one of them.'}`;
  }
  return null;
};

/** The total that the captures of a car show: the middle one; null without any. */
export const usualTotal = (captures: readonly Capture[], carId: string): number | null => {
  const totals = captures
    .filter((capture) => capture.carId === carId && !capture.setAside)
    .map(({ balance }) => balance.total.value)
    .toSorted((a, b) => a - b);
  return totals[Math.floor(totals.length / 2)] ?? null;
};

const weightsWrong = (sheet: SetUpSheet, usual: number | null): string | null => {
  const corners = CORNERS.map((corner) => ({ corner, value: targetOf(sheet, `weight.${corner}`) }));
  const missing = corners.filter(({ value }) => value === null).map(({ corner }) => corner);
  if (missing.length > 0 && missing.length < CORNERS.length)
    return `Corner weight missing: ${missing.map((corner) => CORNER_NAMES[corner]).join(', ')}. Give all four or none.`;
  const total = targetOf(sheet, 'total');
  const sum = missing.length > 0 ? null : corners.reduce((all, each) => all + (each.value ?? 0), 0);
  const expected = usual ?? total;
  if (sum !== null && expected !== null) {
    const guess = asMass(sum, expected);
    if (guess)
      return `The corner weights add up to ${sum.toFixed(1)} kg, against ${expected.toFixed(1)} kg. ${guess}`;
  }
  if (total !== null && (usual ?? sum) !== null) {
    const guess = asMass(total, usual ?? sum ?? total);
    if (guess) return `The total of ${total} kg is not that of this car. ${guess}`;
  }
  for (const { corner, value } of corners) {
    const across = targetOf(sheet, `weight.${ACROSS[corner]}`);
    const guess = value !== null && across !== null && value > across && asMass(value, across);
    if (guess)
      return `${CORNER_NAMES[corner]}: ${value} kg against ${across} kg across the axle. ${guess}`;
  }
  return null;
};

/** The first thing that is wrong with a sheet's lines; `usual` is what the car weighed before, kg. */
export const sheetWrong = (
  sheet: SetUpSheet,
  items: ReadonlyMap<string, Item>,
  usual: number | null,
): string | null => {
  for (const { item: id, target } of sheet.lines) {
    const item = items.get(id);
    if (!item) return `“${id}” is no item of this car. Add its point or place to the car first.`;
    const why = target === null ? null : impossibleValue(target, item, 'file');
    if (why !== null) return why;
  }
  return weightsWrong(sheet, usual);
};

/** The first thing that is wrong with a record's readings; targets come from its sheet. */
export const recordWrong = (
  record: CarRecord,
  items: ReadonlyMap<string, Item>,
  sheet: SetUpSheet | null,
): string | null => {
  for (const entry of record.entries) {
    if (entry.is !== 'reading') continue;
    const item = items.get(entry.item);
    if (!item) return `“${entry.item}” is no item of this car.`;
    const why = impossibleValue(entry.value, item, 'file');
    if (why !== null) return why;
    const weighed = item.kind === 'weight' || item.kind === 'total';
    const target = sheet && weighed ? targetOf(sheet, item.id) : null;
    const guess = target === null ? null : asMass(entry.value, target);
    if (guess) return `${item.label}: ${entry.value} kg, target ${target} kg. ${guess}`;
  }
  return null;
};
