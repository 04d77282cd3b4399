import type { PaperCell, PaperMark } from '../../core/paper/paperDocument.ts';
import type { Pen, Ruler, Type } from './pen.ts';
import { wrapText } from './wrapText.ts';

/** A part of a paper that is kept whole: how high it is, and how it draws itself. Points. */
export interface Piece {
  readonly height: number;
  draw(pen: Pen, x: number, y: number): void;
  /** Head of a table, to be set again where it goes on over a page. */
  readonly again?: Piece;
  /** Not to be the last of a page. */
  readonly keepNext?: boolean;
}

/** Sizes of a paper, all from one: that of its plain text. Points. */
export interface Style {
  readonly size: number;
  readonly line: number;
  readonly gap: number;
  readonly plain: Type;
  readonly strong: Type;
  readonly quiet: Type;
}

export const HAIR = { grey: 0.55, width: 0.4 } as const;
export const FINE = { grey: 0, width: 0.7 } as const;

export const styleOf = (size: number): Style => ({
  size,
  line: 1.32 * size,
  gap: 0.6 * size,
  plain: { size, strong: false, grey: 0 },
  strong: { size, strong: true, grey: 0 },
  quiet: { size: 0.86 * size, strong: false, grey: 0.3 },
});

const textOf = (cell: PaperCell): string =>
  cell === null ? '' : typeof cell === 'string' ? cell : cell.text;

const markOf = (cell: PaperCell): PaperMark | null =>
  cell === null || typeof cell === 'string' ? null : cell.mark;

/** Room that a mark takes before its word. */
const markRoom = (cell: PaperCell, { size }: Type): number =>
  markOf(cell) === null ? 0 : 1.15 * size;

/** Width of a cell on one line. */
export const cellWidth = (ruler: Ruler, cell: PaperCell, type: Type): number =>
  ruler.widthOf(textOf(cell), type) + markRoom(cell, type);

export const cellLines = (
  ruler: Ruler,
  cell: PaperCell,
  type: Type,
  width: number,
): readonly string[] =>
  wrapText(textOf(cell), width - markRoom(cell, type), (text) => ruler.widthOf(text, type));

/** A tick, a filled triangle or an empty ring, standing on y and as high as a capital. */
const drawMark = (pen: Pen, mark: PaperMark, x: number, y: number, size: number): void => {
  const s = 0.62 * size;
  const ink = { grey: 0, width: 0.12 * size };
  if (mark === 'good')
    pen.path(`M${x} ${y - 0.45 * s}L${x + 0.38 * s} ${y - 0.05 * s}L${x + s} ${y - s}`, {
      stroke: ink,
    });
  else if (mark === 'bad')
    pen.path(`M${x + s / 2} ${y - s}L${x + s} ${y}L${x} ${y}Z`, { fill: 0, stroke: ink });
  else {
    const r = s / 2;
    pen.path(`M${x} ${y - r}a${r} ${r} 0 1 0 ${s} 0a${r} ${r} 0 1 0 ${-s} 0Z`, { stroke: ink });
  }
};

/** Lines of a cell from the top y on, its mark before the first; null draws a line to write on. */
export const drawCell = (
  pen: Pen,
  cell: PaperCell,
  box: {
    readonly x: number;
    readonly y: number;
    readonly width: number;
    readonly lines: readonly string[];
    readonly align: 'left' | 'right';
    readonly type: Type;
    readonly line: number;
  },
): void => {
  const { x, y, width, lines, align, type, line } = box;
  const base = y + 0.95 * type.size;
  if (cell === null) {
    pen.path(`M${x} ${base + 0.5 * type.size}H${x + width}`, { stroke: HAIR });
    return;
  }
  const mark = markOf(cell);
  const before = markRoom(cell, type);
  const start = (text: string): number =>
    align === 'left' ? x + before : x + width - pen.widthOf(text, type);
  if (mark !== null) drawMark(pen, mark, start(lines[0] ?? '') - before, base, type.size);
  lines.forEach((text, index) => {
    if (text !== '') pen.text(text, { x: start(text), y: base + index * line }, type);
  });
};
