import { firstUnit, unitOf } from '../format/unitTable.ts';
import type { Reading } from './carRecord.ts';
import type { Item } from './items.ts';
import { itemValue, type ValueSources } from './itemValue.ts';
import { lineOf, type SetUpSheet } from './setUpSheet.ts';

type Cell = string | number | boolean | null;

/** Text that a spreadsheet would take for a formula gets an apostrophe before it. */
const cellText = (cell: Cell): string => {
  if (cell === null) return '';
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell) : '';
  if (typeof cell === 'boolean') return cell ? 'yes' : 'no';
  const safe = /^[=+\-@\t\r]/u.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/u.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
};

/** Rows as CSV (RFC 4180: comma, quotes doubled, CRLF), numbers with a point. */
const csv = (rows: readonly (readonly Cell[])[]): string =>
  rows.map((row) => `${row.map(cellText).join(',')}\r\n`).join('');

const HEAD = [
  'row',
  'item',
  'label',
  'value',
  'unit',
  'u',
  'dof',
  'readings',
  'target',
  'tolerance',
  'stale',
  'not in u',
  'typed',
  'gauge',
  'datum',
  'questioned',
  'set aside',
  'who',
  'at',
] as const;

/**
 * A record as CSV: for every item that was measured or has a line on the sheet one row `value`, then one
 * row `reading` for each that was typed. Values are in the unit named in the row: the sheet's, else the
 * first of the kind. A cell is empty where there is nothing; infinite degrees of freedom are empty too.
 */
export const recordCsv = (sources: ValueSources, sheet: SetUpSheet | null): string => {
  const { record, items } = sources;
  const rows = [...items.values()].flatMap((item) => itemRows(item, sources, sheet));
  const gauge = (id: string): string => record.gauges.find((each) => each.id === id)?.name ?? id;
  return csv([HEAD, ...rows.map((row) => row(gauge))]);
};

type Row = (gauge: (id: string) => string) => readonly Cell[];

const itemRows = (item: Item, sources: ValueSources, sheet: SetUpSheet | null): readonly Row[] => {
  const line = sheet && lineOf(sheet, item.id);
  const value = itemValue(item.id, sources);
  const readings = sources.record.entries.filter(
    (entry): entry is Reading => entry.is === 'reading' && entry.item === item.id,
  );
  if (!line && value.is === 'missing' && readings.length === 0) return [];
  const wanted = line?.unit ?? null;
  const unit = (wanted === null ? null : unitOf(item.quantity, wanted)) ?? firstUnit(item.quantity);
  const shown = (si: number | null): number | null =>
    si === null ? null : Number((si / unit.inSi).toPrecision(12));
  const found = value.is === 'measured' ? value : null;
  return [
    () => [
      'value',
      item.id,
      item.label,
      shown(found?.value.value ?? null),
      unit.unit,
      shown(found?.value.u ?? null),
      found && Number(found.value.dof.toPrecision(6)),
      found?.count ?? null,
      shown(line?.target ?? null),
      shown(line?.tolerance ?? null),
      found?.stale ?? null,
      found?.unknown.join('; ') ?? null,
      ...Array<Cell>(7).fill(null),
    ],
    ...readings.map((reading): Row => (gauge) => [
      'reading',
      item.id,
      item.label,
      shown(reading.value),
      unit.unit,
      ...Array<Cell>(7).fill(null),
      reading.typed,
      gauge(reading.gauge),
      reading.datum,
      reading.questioned,
      reading.setAside,
      reading.who,
      reading.at,
    ]),
  ];
};
