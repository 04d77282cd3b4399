import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { PaperBlock } from '../../../core/paper/paperDocument.ts';
import { sheetPaper } from '../../../core/paper/sheet/sheetPaper.ts';
import { layOut } from '../../../drivers/paper/layOut.ts';
import { paginate } from '../../../drivers/paper/paginate.ts';
import type { Pen } from '../../../drivers/paper/pen.ts';
import { styleOf, type Piece } from '../../../drivers/paper/piece.ts';
import { printable } from '../../../drivers/paper/printable.ts';
import { wrapText } from '../../../drivers/paper/wrapText.ts';
import { exampleSheet } from '../../core/paper/exampleSheet.ts';
import { blocksOf } from '../../core/paper/paperWords.ts';

/** A pen that only remembers; every letter is half as wide as it is high. */
const remembering = () => {
  const paths: string[] = [];
  const texts: { text: string; x: number; y: number; width: number }[] = [];
  const widthOf: Pen['widthOf'] = (text, { size }) => 0.5 * size * Array.from(text).length;
  const pen: Pen = {
    widthOf,
    text: (text, at, type) => void texts.push({ text, ...at, width: widthOf(text, type) }),
    path: (d) => void paths.push(d),
  };
  return { pen, paths, texts };
};

const drawn = (blocks: readonly PaperBlock[], width: number) => {
  const seen = remembering();
  let top = 0;
  for (const piece of layOut(blocks, { width, style: styleOf(8), ruler: seen.pen })) {
    piece.draw(seen.pen, 0, top);
    top += piece.height;
  }
  return { ...seen, height: top };
};

describe('text in a width', () => {
  const measure = (text: string): number => Array.from(text).length;

  test('no line is wider than it may be, and every letter is there', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom('a', 'b', 'c', ' ', '\u00A0', '\n') }),
        fc.integer({ min: 1, max: 12 }),
        (text, width) => {
          const lines = wrapText(text, width, measure);
          for (const line of lines) expect(measure(line)).toBeLessThanOrEqual(width);
          expect(lines.join('').replaceAll(' ', '')).toBe(text.replaceAll(/[ \n]/g, ''));
        },
      ),
      { seed: 3 },
    );
  });

  test('a number stays with its unit, a word is broken only where it must be', () => {
    expect(wrapText('at most 0.10\u00A0kg', 8, measure)).toEqual(['at most', '0.10\u00A0kg']);
    expect(wrapText('abcdefgh ij', 5, measure)).toEqual(['abcde', 'fgh', 'ij']);
  });
});

describe('characters of a face', () => {
  const latin = (character: string): boolean => /[ -~½°]/u.test(character);

  test.each([
    ['½ 1½', '½ 1½'],
    ['⅙ 1⅙ −2', '1/6 1 1/6 -2'],
    ['ž ≥ 3', 'z >= 3'],
    ['a\u202Fb\tc', 'a b c'],
    ['漢\n字', '?\n?'],
  ])('%j becomes %j', (text, expected) => expect(printable(text, latin)).toBe(expected));
});

describe('pages', () => {
  const piece = (height: number, more: Partial<Piece> = {}): Piece => ({
    height,
    draw: () => {},
    ...more,
  });

  test('a heading goes over with what follows it, and each piece has its place', () => {
    const [a, heading, b] = [piece(60), piece(20, { keepNext: true }), piece(30)];
    expect(paginate([a, heading, b], 100)).toEqual([
      [{ piece: a, top: 0 }],
      [
        { piece: heading, top: 0 },
        { piece: b, top: 20 },
      ],
    ]);
  });

  test('what is higher than a page stands alone, and nothing is lost', () => {
    const pieces = [piece(30), piece(150), piece(30)];
    const pages = paginate(pieces, 100);
    expect(pages.map((page) => page.map((each) => each.top))).toEqual([[0], [0], [0]]);
    expect(pages.flat().map((each) => each.piece)).toEqual(pieces);
  });
});

describe('the plan', () => {
  const [plan] = blocksOf(sheetPaper(exampleSheet).blocks, 'plan');

  test('is to scale: the wheels stand as the wheelbase and the tracks have them', () => {
    const { paths } = drawn([plan!], 400);
    const wheels = paths.flatMap((d) => {
      const match = /^M([\d.]+) ([\d.]+)h([\d.]+)v([\d.]+)h-[\d.]+Z$/.exec(d);
      if (!match) return [];
      const [x, y, width, length] = match.slice(1).map(Number) as [number, number, number, number];
      return [{ x: x + width / 2, y: y + length / 2 }];
    });
    expect(wheels).toHaveLength(4);
    const [lf, rf, lr, rr] = wheels as [
      (typeof wheels)[0],
      (typeof wheels)[0],
      (typeof wheels)[0],
      (typeof wheels)[0],
    ];
    const scale = (lr.y - lf.y) / 2.7;
    expect(lf.y).toBe(rf.y);
    expect((rf.x - lf.x) / scale).toBeCloseTo(1.68, 9);
    expect((rr.x - lr.x) / scale).toBeCloseTo(1.65, 9);
    // The centre of gravity: 1.417 m behind the front axle, 6 mm left of the middle.
    const cg = /^M([\d.]+) ([\d.]+)a/.exec(paths.find((d) => /a3 3/.test(d)) ?? '');
    expect((Number(cg?.[2]) - lf.y) / scale).toBeCloseTo(1.417, 9);
    expect(((lf.x + rf.x) / 2 - (Number(cg?.[1]) + 3)) / scale).toBeCloseTo(0.006, 9);
  });

  test.each([250, 400, 520])(
    '%i points wide: blocks stand at their corners, clear of one another',
    (width) => {
      const { texts } = drawn([plan!], width);
      const label = (name: string) => texts.find(({ text }) => text === name)!;
      const [lf, rf, lr, rr] = ['LF', 'RF', 'LR', 'RR'].map(label) as [
        (typeof texts)[0],
        (typeof texts)[0],
        (typeof texts)[0],
        (typeof texts)[0],
      ];
      expect(lf.x).toBe(lr.x);
      expect(rf.x).toBe(rr.x);
      expect(rf.x).toBeGreaterThan(width / 2);
      expect(lf.y).toBe(rf.y);
      const front = texts.filter(({ x, y }) => x === lf.x && y < lr.y);
      expect(Math.max(...front.map(({ y }) => y))).toBeLessThan(lr.y - 8);
    },
  );
});

describe('tables', () => {
  const table = (words: string): PaperBlock => ({
    is: 'table',
    columns: [
      { head: 'Item', align: 'left' },
      { head: 'Value', align: 'right' },
      { head: 'Why', align: 'left' },
    ],
    rows: [
      ['LF', '312.4', words],
      ['RR', '1 340.3', 'short'],
    ],
  });

  test.each([120, 200, 500])(
    'in %i points: numbers whole and right, words wrapped, nothing outside',
    (width) => {
      const { texts } = drawn(
        [table('a rather long reason that does not fit on one line of it')],
        width,
      );
      const numbers = texts.filter(({ text }) => /^[\d .]+$/.test(text));
      expect(numbers.map(({ text }) => text)).toEqual(['312.4', '1 340.3']);
      const [a, b] = numbers.map(({ x, width: wide }) => x + wide);
      expect(a).toBeCloseTo(b ?? NaN, 9);
      for (const { x, width: wide } of texts) {
        expect(x).toBeGreaterThanOrEqual(0);
        expect(x + wide).toBeLessThanOrEqual(width + 1e-6);
      }
    },
  );
});
