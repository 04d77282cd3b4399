import { expect, test } from 'vitest';
import { budgetCsv } from '../../../core/paper/budget/budgetCsv.ts';
import { budgetPaper } from '../../../core/paper/budget/budgetPaper.ts';
import { massIn } from '../../../core/units.ts';
import { exampleBudget } from './exampleBudget.ts';
import { blocksOf, paperTexts } from './paperWords.ts';
import { readTable } from './readCsv.ts';

const head = { title: 'Heron R2', stamp: null, created: 0, foot: 'Saltmarsh Racing' };

test('as a table: each term with its share, the unknown one named, the whole with its coverage', () => {
  const paper = budgetPaper(head, [
    {
      budget: exampleBudget(),
      of: { name: 'corner weight LF', value: '312.4 kg', unit: 'kg', inUnit: (each) => each },
    },
  ]);
  // u² = 0.12² + 0.086² and dof = u⁴/(0.12⁴/9) by hand: 0.14764, 20.6; t(20) = 2.086: ±0.308.
  expect(blocksOf(paper.blocks, 'table')[0]?.rows).toEqual([
    [
      'repeatability of lowering',
      'A',
      't',
      '0.12',
      '9',
      '66\u00A0%',
      'study of repeated lowerings, mean of 1',
    ],
    ['patch twist', 'B', 'normal', '0.086', 'no limit', '34\u00A0%', 'survey of the patch'],
    [
      'wind',
      'B',
      'arcsine',
      'not known',
      '',
      '',
      'watch the total and the sides over a minute, or go indoors',
    ],
  ]);
  const text = paperTexts(paper).join('\n');
  expect(text).toContain(
    '312.4 kg: standard uncertainty 0.15\u00A0kg with 20.6 degrees of freedom, ±0.31\u00A0kg with 95\u00A0% coverage.',
  );
  expect(text).toContain('At least that: not known, and left out, wind.');
});

test('in another unit it is the same budget', () => {
  const paper = budgetPaper(head, [
    {
      budget: exampleBudget(),
      of: { name: 'LF', value: '688.7 lb', unit: 'lb', inUnit: (each) => massIn('lb', each) },
    },
  ]);
  // 0.12 kg is 0.26 lb, 0.14764 kg 0.33 lb (1 lb = 0.45359237 kg).
  expect(blocksOf(paper.blocks, 'table')[0]?.rows[0]).toContain('0.26');
  expect(paperTexts(paper).join('\n')).toContain('0.33\u00A0lb');
});

test('as a file it can be combined again, and what is not known is empty', () => {
  const rows = readTable(
    budgetCsv([{ name: 'LF', value: 312.4, unit: 'kg', budget: exampleBudget() }]),
  );
  const [first, second, wind, whole] = rows;
  const u = (row: Record<string, string> | undefined): number => Number(row?.['u']);
  expect(Number(whole?.['u'])).toBeCloseTo(Math.hypot(u(first), u(second)), 15);
  for (const row of [first, second])
    expect(u(row)).toBeCloseTo(Number(row?.['u input']) * Number(row?.['sensitivity']), 15);
  expect(wind).toMatchObject({ term: 'wind', 'u input': '', u: '', share: '', dof: 'inf' });
  expect(whole).toMatchObject({ of: 'LF', unit: 'kg', term: 'combined', complete: 'no' });
});
