import type { PaperCell, PaperRow, PaperTable } from '../../core/paper/paperDocument.ts';
import type { Room } from './layText.ts';
import { cellLines, cellWidth, drawCell, FINE, HAIR, type Piece } from './piece.ts';

/** Rows of a table that is not parted over pages; common practice, no source. */
const SHORT = 8;

/** Room for a number written by hand, in sizes of the text. */
const PENCIL = 4.5;

const isCells = (row: PaperRow): row is readonly PaperCell[] => !('group' in row);

/** Widest single word of a text: a column of words is never narrower. */
const widestWord = (text: string, measure: (word: string) => number): number =>
  Math.max(0, ...text.split(/[ \n]/).map(measure));

/**
 * Widths of the columns: each as wide as it needs where there is room, and what is left shared out;
 * otherwise the columns of words, widest first, give way down to their longest word.
 */
const columnWidths = (table: PaperTable, room: Room, between: number): number[] => {
  const { columns } = table;
  const rows = table.rows.filter(isCells);
  const { width, style, ruler } = room;
  const { plain, quiet, size } = style;
  const head = (text: string): number => widestWord(text, (word) => ruler.widthOf(word, quiet));
  const cells = columns.map((_, index) => rows.map((row) => row[index] ?? ''));
  const wanted = columns.map((column, index) =>
    Math.max(
      head(column.head),
      ...(cells[index] ?? []).map((cell) =>
        cell === null ? PENCIL * size : cellWidth(ruler, cell, plain),
      ),
    ),
  );
  const least = columns.map((column, index) =>
    column.align === 'right'
      ? (wanted[index] as number)
      : Math.max(
          head(column.head),
          ...(cells[index] ?? []).map((cell) =>
            typeof cell === 'string'
              ? widestWord(cell, (word) => ruler.widthOf(word, plain))
              : cell === null
                ? PENCIL * size
                : cellWidth(ruler, cell, plain),
          ),
        ),
  );
  const available = width - (columns.length - 1) * between;
  const sum = (all: readonly number[]): number => all.reduce((total, each) => total + each, 0);
  const spare = available - sum(wanted);
  if (spare >= 0) return wanted.map((each) => each + spare / columns.length);
  // The widest give way first: one width that none of them passes makes the table fit.
  let [low, high] = [0, Math.max(...wanted)];
  const limited = (limit: number): number[] =>
    wanted.map((each, index) => Math.max(least[index] as number, Math.min(each, limit)));
  for (let step = 0; step < 40; step += 1) {
    const middle = (low + high) / 2;
    if (sum(limited(middle)) > available) high = middle;
    else low = middle;
  }
  const widths = limited(low);
  const over = sum(widths) - available;
  // Not even the longest words fit: all give way alike, and words are broken.
  return over > 1e-6 ? widths.map((each) => (each * available) / (over + available)) : widths;
};

export const layTable = (table: PaperTable, room: Room): readonly Piece[] => {
  const { style, ruler, width } = room;
  const { size, line, plain, quiet } = style;
  const between = 1.1 * size;
  const widths = columnWidths(table, room, between);
  const starts = widths.map((_, index) =>
    widths.slice(0, index).reduce((sum, each) => sum + each + between, 0),
  );
  const aligns = table.columns.map(({ align }) => align);

  const drawRow =
    (cells: readonly PaperCell[], lines: readonly (readonly string[])[], head: boolean) =>
    (pen: Parameters<Piece['draw']>[0], x: number, y: number): void =>
      cells.forEach((cell, index) =>
        drawCell(pen, cell, {
          x: x + (starts[index] ?? 0),
          y,
          width: widths[index] ?? 0,
          lines: lines[index] ?? [],
          align: aligns[index] ?? 'left',
          type: head ? quiet : plain,
          line: head ? 1.2 * quiet.size : line,
        }),
      );

  const heads = table.columns.map((column) => column.head);
  const headLines = heads.map((text, index) => cellLines(ruler, text, quiet, widths[index] ?? 0));
  const most = Math.max(...headLines.map((lines) => lines.length));
  const headHeight = most * 1.2 * quiet.size + 0.35 * size;
  // Heads stand on their rule, whether they take one line or two.
  const lowered = headLines.map((lines) => [
    ...Array.from({ length: most - lines.length }, () => ''),
    ...lines,
  ]);
  const head: Piece = {
    height: headHeight + 0.15 * size,
    keepNext: true,
    draw: (pen, x, y) => {
      drawRow(heads, lowered, true)(pen, x, y);
      pen.path(`M${x} ${y + headHeight}H${x + width}`, { stroke: FINE });
    },
  };
  const groupRow = (name: string): Piece => {
    const lines = cellLines(ruler, name, style.strong, width);
    return {
      height: lines.length * line + 0.75 * size,
      again: head,
      keepNext: true,
      draw: (pen, x, y) =>
        drawCell(pen, name, {
          x,
          y: y + 0.5 * size,
          width,
          lines,
          align: 'left',
          type: style.strong,
          line,
        }),
    };
  };
  const isShort = table.rows.length <= SHORT;
  const rows = table.rows.map((row, index): Piece => {
    if (!isCells(row)) return groupRow(row.group);
    const lines = row.map((cell, column) => cellLines(ruler, cell, plain, widths[column] ?? 0));
    const pencil = row.includes(null) ? 0.75 * size : 0.3 * size;
    const height = Math.max(...lines.map((each) => each.length)) * line + pencil;
    const last = index === table.rows.length - 1;
    return {
      height: height + (last ? style.gap : 0),
      again: head,
      // A short table is kept whole; of a long one neither the first nor the last row stands alone.
      keepNext: !last && (isShort || index === 0 || index === table.rows.length - 2),
      draw: (pen, x, y) => {
        drawRow(row, lines, false)(pen, x, y + pencil / 2);
        pen.path(`M${x} ${y + height}H${x + width}`, { stroke: HAIR });
      },
    };
  });
  return [head, ...rows];
};
