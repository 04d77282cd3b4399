import { firstUnit, unitOf, type Unit } from '../format/unitTable.ts';
import { csvText, type CsvColumn } from '../paper/csv.ts';
import type { Car } from './car.ts';
import { itemsById, itemsOf, type Item } from './items.ts';
import type { AsBuilt, SetUpSheet, SheetLine } from './setUpSheet.ts';

interface Row {
  readonly line: SheetLine;
  readonly item: Item | null;
  readonly unit: Unit | null;
  readonly built: AsBuilt | null;
}

const inUnit = (si: number | null | undefined, unit: Unit | null): number | null =>
  si === null || si === undefined || !unit ? null : Number((si / unit.inSi).toPrecision(12));

const COLUMNS: readonly CsvColumn<Row>[] = [
  { name: 'item', means: 'kind and place', of: ({ line }) => line.item },
  { name: 'label', means: 'in words', of: ({ item }) => item?.label ?? null },
  {
    name: 'unit',
    means: 'of target, tolerance, as built and u',
    of: ({ unit }) => unit?.unit ?? null,
  },
  { name: 'target', means: 'what it shall be', of: ({ line, unit }) => inUnit(line.target, unit) },
  { name: 'tolerance', means: 'either way', of: ({ line, unit }) => inUnit(line.tolerance, unit) },
  {
    name: 'as built',
    means: 'value at the release',
    of: ({ built, unit }) => inUnit(built?.value.value, unit),
  },
  {
    name: 'u',
    means: 'standard uncertainty of it',
    of: ({ built, unit }) => inUnit(built?.value.u, unit),
  },
  { name: 'stale', means: 'work was done after it', of: ({ built }) => built?.stale ?? null },
];

/** The lines of a sheet as CSV, in the sheet's units, with the as-built values of its release. */
export const sheetCsv = (sheet: SetUpSheet, car: Car): string => {
  const items = itemsById(itemsOf(car, sheet.extras));
  return csvText(
    COLUMNS,
    sheet.lines.map((line): Row => {
      const item = items.get(line.item) ?? null;
      const unit =
        item &&
        ((line.unit === null ? null : unitOf(item.quantity, line.unit)) ??
          firstUnit(item.quantity));
      const built = sheet.released?.asBuilt.find((each) => each.item === line.item) ?? null;
      return { line, item, unit, built };
    }),
  );
};
