import { expect, test } from 'vitest';
import { sheetPaper, type SheetContent } from '../../../core/paper/sheet/sheetPaper.ts';
import { exampleSheet } from './exampleSheet.ts';
import { blocksOf } from './paperWords.ts';

const heads = (content: SheetContent): string[][] =>
  blocksOf(sheetPaper(content).blocks, 'table').map(({ columns }) =>
    columns.map(({ head }) => head),
  );

const without = (...gone: ('change' | 'verdict' | 'value')[]): SheetContent => ({
  ...exampleSheet,
  groups: exampleSheet.groups.map(({ heading, lines }) => ({
    heading,
    lines: lines.map((line) => ({
      ...line,
      ...Object.fromEntries(gone.map((each) => [each, ''])),
    })),
  })),
});

test('is one page of facts, plan, ticks, items in two columns and lines for a pencil', () => {
  const paper = sheetPaper(exampleSheet);
  expect(paper).toMatchObject({
    pages: 'one',
    kind: 'Set-down sheet',
    title: 'Heron R2, after run 3',
  });
  expect(paper.blocks.map(({ is }) => is)).toEqual(['facts', 'beside', 'beside', 'pencil']);
  expect(blocksOf(paper.blocks, 'plan')[0]).toMatchObject({ wheelbase: 2.7, trackFront: 1.68 });
  expect(blocksOf(paper.blocks, 'ticks')[0]?.items).toHaveLength(8);
});

test('keeps the groups in order and the two columns about as long', () => {
  const tables = blocksOf(sheetPaper(exampleSheet).blocks, 'table');
  const groups = tables.map(({ rows }) =>
    rows.flatMap((row) => ('group' in row ? [row.group] : [])),
  );
  expect(groups).toEqual([
    ['Weights', 'Ride heights, from the pads', 'Camber'],
    ['Toe, in positive', 'Caster', 'Perches and ballast'],
  ]);
});

test('a column in which nothing is said is left out: a set-up sheet has no change', () => {
  expect(heads(exampleSheet)[0]).toEqual(['Item', 'Target', '±', 'Value', 'Change', 'Verdict']);
  expect(heads(without('change', 'verdict'))).toEqual([
    ['Item', 'Target', '±', 'Value'],
    ['Item', 'Target', '±', 'Value'],
  ]);
  expect(heads(without('change', 'verdict', 'value'))[0]).toEqual(['Item', 'Target', '±']);
});

test('room for a pencil is kept where a value is to be written', () => {
  const rows = blocksOf(sheetPaper(exampleSheet).blocks, 'table').flatMap((table) => table.rows);
  expect(rows.filter((row) => !('group' in row) && row[3] === null)).toHaveLength(4);
});
