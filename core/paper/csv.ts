/** What a field may hold. Null is not known or not there, and leaves it empty: never a zero. */
export type CsvValue = string | number | boolean | null;

/** A column of a file: its name, with its unit in brackets, what it means, and where it comes from. */
export interface CsvColumn<Row> {
  readonly name: string;
  readonly means: string;
  readonly of: (row: Row) => CsvValue;
}

/**
 * One field (RFC 4180): quoted where it must be. Numbers with a decimal point and as many digits as it
 * takes to read the same number again; without a limit is `inf`; yes and no for truth values.
 */
const field = (value: CsvValue): string => {
  if (value === null) return '';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'number') {
    if (Number.isNaN(value)) throw new RangeError('not a number has no field: use null');
    return Number.isFinite(value) ? String(value) : value > 0 ? 'inf' : '-inf';
  }
  return /[",\r\n]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value;
};

/** Text of a file: a header, then a record for each row, each ended by CR LF (RFC 4180, 2). */
export const csvText = <Row>(columns: readonly CsvColumn<Row>[], rows: readonly Row[]): string =>
  [
    columns.map(({ name }) => field(name)),
    ...rows.map((row) => columns.map(({ of }) => field(of(row)))),
  ]
    .map((fields) => `${fields.join(',')}\r\n`)
    .join('');
