import fc from 'fast-check';
import { expect, test } from 'vitest';
import { csvText, type CsvColumn, type CsvValue } from '../../../core/paper/csv.ts';
import { readCsv } from './readCsv.ts';

const columns: readonly CsvColumn<readonly CsvValue[]>[] = ['a', 'b, kg'].map((name, index) => ({
  name,
  means: name,
  of: (row) => row[index] ?? null,
}));

test('RFC 4180, rules 1 to 7: records end in CR LF, quotes are doubled', () => {
  expect(
    csvText(columns, [
      ['plain', 'with "quotes"'],
      ['two\nlines', null],
      [-0.1, true],
      [Infinity, 1e-7],
    ]),
  ).toBe('a,"b, kg"\r\nplain,"with ""quotes"""\r\n"two\nlines",\r\n-0.1,yes\r\ninf,1e-7\r\n');
});

test('a number that is none has no field', () => {
  expect(() => csvText(columns, [[Number.NaN, 0]])).toThrow(RangeError);
});

test('whatever is written is read again: every text, every number to its last digit', () => {
  fc.assert(
    fc.property(
      fc.array(fc.tuple(fc.string({ unit: 'binary' }), fc.double({ noNaN: true }))),
      (rows) => {
        const [, ...records] = readCsv(csvText(columns, rows));
        expect(
          records.map(([text, number]) => [
            text,
            Number((number ?? '').replace('inf', 'Infinity')),
          ]),
        ).toEqual(rows.map(([text, number]) => [text, number === 0 ? 0 : number]));
      },
    ),
    { seed: 8 },
  );
});
