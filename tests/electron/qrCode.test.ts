import { expect, test } from 'vitest';
import { qrCode } from '../../electron/qrCode.ts';

/** The dark modules of a path, row by row. */
const drawn = (size: number, path: string): readonly string[] => {
  const dark = new Set(
    Array.from(path.matchAll(/M(\d+) (\d+)h1v1h-1z/g), ([, x, y]) => `${x} ${y}`),
  );
  return Array.from({ length: size }, (_row, y) =>
    Array.from({ length: size }, (_column, x) => (dark.has(`${x} ${y}`) ? '#' : '.')).join(''),
  );
};

/** ISO/IEC 18004, 6.3.3: the finder pattern, with its separator. */
const FINDER = [
  '#######.',
  '#.....#.',
  '#.###.#.',
  '#.###.#.',
  '#.###.#.',
  '#.....#.',
  '#######.',
  '........',
];
const mirrored = (rows: readonly string[]): readonly string[] =>
  rows.map((row) => row.split('').toReversed().join(''));

test('an address with its code: small enough for a poor camera, finder and timing patterns in place', () => {
  const { size, path } = qrCode('http://192.168.100.200:17311/#abcdefghijklmnopqrstuv');
  // Version 4 of ISO/IEC 18004 holds 62 bytes at level M, version 3 only 42.
  expect(size).toBe(33);
  const rows = drawn(size, path);
  const corner = (x: number, y: number): readonly string[] =>
    rows.slice(y, y + 8).map((row) => row.slice(x, x + 8));
  expect(corner(0, 0)).toEqual(FINDER);
  expect(corner(size - 8, 0)).toEqual(mirrored(FINDER));
  expect(corner(0, size - 8)).toEqual(FINDER.toReversed());
  expect(rows[6]?.slice(8, -8)).toBe('#.#.#.#.#.#.#.#.#');
  expect(rows.map((row) => row[6]).slice(8, -8)).toEqual('#.#.#.#.#.#.#.#.#'.split(''));
});

test('another text is another code', () => {
  expect(qrCode('http://10.0.0.1:17311/#a').path).not.toBe(qrCode('http://10.0.0.1:17311/#b').path);
});
