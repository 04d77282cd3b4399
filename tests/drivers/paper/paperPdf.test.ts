import { describe, expect, test } from 'vitest';
import { budgetPaper } from '../../../core/paper/budget/budgetPaper.ts';
import { calibrationPaper } from '../../../core/paper/calibration/calibrationPaper.ts';
import type { PaperDocument } from '../../../core/paper/paperDocument.ts';
import { sheetPaper } from '../../../core/paper/sheet/sheetPaper.ts';
import { paperPdf, type PaperSize } from '../../../drivers/paper/paperPdf.ts';
import { exampleBudget } from '../../core/paper/exampleBudget.ts';
import { bentRecord, reasonedRecord, soundRecord } from '../../core/paper/exampleRecords.ts';
import { exampleSheet } from '../../core/paper/exampleSheet.ts';
import { blocksOf, paperTexts } from '../../core/paper/paperWords.ts';
import { faces } from './faces.ts';
import { inkBounds, pdfFonts, pdfInfo, pdfPicture, pdfText, poppler } from './poppler.ts';

const made = (paper: PaperDocument, size: PaperSize = 'A4'): Promise<Uint8Array> =>
  paperPdf(paper, { size, fonts: faces });

const plain: PaperDocument = {
  kind: 'Test',
  title: 'Letters',
  stamp: null,
  created: Date.UTC(2026, 5, 1, 7, 5),
  foot: 'Foot',
  pages: 'as needed',
  blocks: [],
};

const budget = budgetPaper({ ...plain, title: 'Heron R2' }, [
  {
    budget: exampleBudget(),
    of: { name: 'corner weight LF', value: '312.4 kg', unit: 'kg', inUnit: (each) => each },
  },
]);

const long: PaperDocument = {
  ...plain,
  title: 'A car with a name of eighty letters, as long as a name may be in the records, here',
  foot: 'A foot that is longer than the line it stands on. '.repeat(4).trim(),
  blocks: [
    { is: 'facts', columns: 3, facts: [{ name: 'Word', value: 'x'.repeat(60) }] },
    { is: 'table', columns: [{ head: 'Empty', align: 'left' }], rows: [] },
  ],
};

const PAPERS: readonly (readonly [name: string, paper: PaperDocument, mostPages: number])[] = [
  ['a calibration', calibrationPaper(soundRecord()), 2],
  ['a calibration on the practice rig', calibrationPaper(bentRecord()), 2],
  ['a calibration used for a reason', calibrationPaper(reasonedRecord()), 2],
  ['a budget', budget, 1],
  ['a set-down sheet', sheetPaper(exampleSheet), 1],
];

/** Words in no order, since columns are read in whichever order the reader likes. */
const words = (text: string): string[] =>
  text
    .split(/\s+/)
    .filter((word) => word !== '')
    .toSorted();

const compared = (seen: readonly string[], expected: readonly string[]) => {
  const over = [...seen];
  const missing = expected.filter((word) => {
    const at = over.indexOf(word);
    if (at >= 0) over.splice(at, 1);
    return at < 0;
  });
  return { missing, over };
};

const headsOf = (paper: PaperDocument): string[][] =>
  blocksOf(paper.blocks, 'table').map(({ columns }) =>
    words(columns.map(({ head }) => head).join(' ')),
  );

const pagesOf = (pdf: Uint8Array): number =>
  Buffer.from(pdf).toString('latin1').split('/Type /Page\n').length - 1;

describe.each(PAPERS)('%s', (_, paper, mostPages) => {
  test('is the same bytes each time, and a few of them', async () => {
    const first = await made(paper);
    expect(Buffer.from(first).equals(Buffer.from(await made(paper)))).toBe(true);
    expect(Buffer.from(first.subarray(0, 8)).toString()).toBe('%PDF-1.7');
    expect(first.length).toBeLessThan(60_000);
    expect(pagesOf(first)).toBeGreaterThan(0);
  });

  poppler.describe('read by another program', () => {
    test.each(['A4', 'letter'] as const)(
      'on %s: each word of the paper, and no other',
      async (size) => {
        // Letters across the page are no word to the reader: they are looked for in the picture.
        const pages = pdfText(await made({ ...paper, stamp: null }, size));
        expect(pages.length).toBeLessThanOrEqual(mostPages);
        const furniture = pages.flatMap((_page, index) => [
          paper.foot,
          `Page ${index + 1} of ${pages.length}`,
        ]);
        const { missing, over } = compared(
          words(pages.join('\n')),
          words([...paperTexts(paper), ...furniture].join('\n')),
        );
        expect(missing).toEqual([]);
        // A table that goes on over the page has its head twice.
        if (over.length > 0) expect(headsOf(paper)).toContainEqual(over);
      },
    );

    test.each(['A4', 'letter'] as const)('on %s nothing reaches the margin', async (size) => {
      const pdf = await made(paper, size);
      const info = pdfInfo(pdf);
      expect(info['Page size']).toMatch(size === 'A4' ? /^595\.28 x 841\.89/ : /^612 x 792/);
      expect(info['Title']).toBe(`${paper.kind}: ${paper.title}`);
      for (let page = 1; page <= Number(info['Pages']); page += 1) {
        const ink = inkBounds(pdfPicture(pdf, page, 50), 200);
        // 40 points of 595 by 842, a dot less for the width of lines and letters.
        expect(ink?.left).toBeGreaterThan(0.06);
        expect(ink?.right).toBeLessThan(0.94);
        expect(ink?.top).toBeGreaterThan(0.045);
        expect(ink?.bottom).toBeLessThan(0.957);
      }
    });

    test('both weights are in the file, as subsets with their characters', async () => {
      const fonts = pdfFonts(await made(paper));
      expect(fonts).toHaveLength(2);
      for (const font of fonts)
        expect(font).toMatch(/\+B612-(Regular|Bold)\s+CID TrueType\s+Identity-H\s+yes\s+yes\s+yes/);
    });
  });
});

poppler.test('the practice word stands across every page, in grey under the text', async () => {
  const paper = calibrationPaper(bentRecord());
  const [pdf, without] = [await made(paper), await made({ ...paper, stamp: null })];
  for (const page of [1, 2]) {
    const grey = ({ grey: dots }: ReturnType<typeof pdfPicture>): number =>
      dots.filter((each) => each === Math.round(0.88 * 255)).length / dots.length;
    expect(grey(pdfPicture(pdf, page, 50))).toBeGreaterThan(0.02);
    expect(grey(pdfPicture(without, page, 50))).toBeLessThan(0.005);
  }
});

poppler.test('a title, a foot and a word that are too long stay within the margins', async () => {
  const ink = inkBounds(pdfPicture(await made(long), 1, 50), 200);
  expect(ink?.left).toBeGreaterThan(0.06);
  expect(ink?.right).toBeLessThan(0.94);
});

poppler.test(
  'signs, fractions and accents are printed or spelt out, and what is lost is said',
  async () => {
    const pdf = await made({
      ...plain,
      blocks: [
        { is: 'text', tone: 'plain', text: '−0.5 ±0.3 % ° × ½ ¼ ¾ ⅙ 1⅔ ≤ ² Pržibor José' },
        { is: 'text', tone: 'strong', text: '−0.5 ±0.3 % ° × ½ ¼ ¾ ⅙ 1⅔ ≤ ² Pržibor José 漢' },
      ],
    });
    const spelt = '−0.5 ±0.3 % ° × ½ ¼ ¾ 1/6 1 2/3 <= ² Przibor José';
    const text = pdfText(pdf).join('');
    expect(text).toContain(`${spelt} −`);
    expect(text).toContain(`${spelt} ? `);
    expect(text).toContain('Foot. ? stands for a letter that this face lacks.');
  },
);

poppler.test(
  'a sheet with more than one page holds goes on; a table begins with its head again',
  async () => {
    const many = sheetPaper({
      ...exampleSheet,
      groups: Array.from({ length: 12 }, () => exampleSheet.groups[0]!),
    });
    const table = {
      ...plain,
      blocks: [
        {
          is: 'table' as const,
          columns: [{ head: 'Number', align: 'right' as const }],
          rows: Array.from({ length: 150 }, (_, index) => [String(index + 1)]),
        },
      ],
    };
    expect(
      words(pdfText(await made(many)).join('\n')).filter((word) => word === 'Total,'),
    ).toHaveLength(12);
    const pages = pdfText(await made(table));
    expect(pages.length).toBeGreaterThan(2);
    for (const page of pages) expect(page).toContain('Number');
    expect(words(pages.join('\n')).filter((word) => /^\d+$/.test(word)).length).toBe(
      150 + 2 * pages.length,
    );
  },
);

test('a face that is none is refused', async () => {
  await expect(
    paperPdf(plain, { size: 'A4', fonts: { ...faces, bold: new Uint8Array(10) } }),
  ).rejects.toThrow('Unknown font format');
});
