import type {
  PaperFacts,
  PaperHeading,
  PaperPencil,
  PaperText,
  PaperTicks,
} from '../../core/paper/paperDocument.ts';
import type { Ruler } from './pen.ts';
import { cellLines, drawCell, FINE, HAIR, type Piece, type Style } from './piece.ts';

/** What a block is laid out with: the width it has, the sizes, and what measures. */
export interface Room {
  readonly width: number;
  readonly style: Style;
  readonly ruler: Ruler;
}

export const layHeading = ({ text }: PaperHeading, { style, width, ruler }: Room): Piece => {
  const type = { ...style.strong, size: 1.1 * style.size };
  const lines = cellLines(ruler, text, type, width);
  const line = 1.3 * type.size;
  return {
    height: 0.5 * style.size + lines.length * line + 0.15 * style.size,
    keepNext: true,
    draw: (pen, x, y) =>
      drawCell(pen, text, { x, y: y + 0.5 * style.size, width, lines, align: 'left', type, line }),
  };
};

export const layText = ({ text, tone }: PaperText, { width, style, ruler }: Room): Piece => {
  const type = style[tone];
  const lines = cellLines(ruler, text, type, width);
  const line = 1.32 * type.size;
  return {
    height: lines.length * line + style.gap,
    draw: (pen, x, y) => drawCell(pen, text, { x, y, width, lines, align: 'left', type, line }),
  };
};

/** Things in so many columns, filled along the rows, each row as high as its highest. */
const layGrid = (
  columns: number,
  { width, style }: Room,
  make: readonly ((width: number) => Piece)[],
): readonly Piece[] => {
  const between = 1.6 * style.size;
  const each = (width - (columns - 1) * between) / columns;
  const pieces = make.map((one) => one(each));
  const rows = Array.from({ length: Math.ceil(pieces.length / columns) }, (_, row) =>
    pieces.slice(row * columns, (row + 1) * columns),
  );
  return rows.map((row) => ({
    height: Math.max(...row.map(({ height }) => height)),
    draw: (pen, x, y) =>
      row.forEach((piece, index) => piece.draw(pen, x + index * (each + between), y)),
  }));
};

/** Part of a column that the names of facts take. */
const NAME_SHARE = 0.34;

export const layFacts = ({ columns, facts }: PaperFacts, room: Room): readonly Piece[] => {
  const { style, ruler } = room;
  const { line, plain, size } = style;
  const name = { ...plain, grey: style.quiet.grey };
  return layGrid(
    columns,
    room,
    facts.map((fact) => (width) => {
      const nameWidth = NAME_SHARE * width;
      const valueWidth = width - nameWidth - size;
      const names = cellLines(ruler, fact.name, name, nameWidth);
      const values = cellLines(ruler, fact.value, plain, valueWidth);
      const rows = Math.max(names.length, values.length);
      return {
        height: rows * line + (fact.value === null ? 0.8 * size : 0.15 * size),
        draw: (pen, x, y) => {
          const at = { y: fact.value === null ? y + 0.4 * size : y, align: 'left', line } as const;
          drawCell(pen, fact.name, { ...at, x, width: nameWidth, lines: names, type: name });
          drawCell(pen, fact.value, {
            ...at,
            x: x + nameWidth + size,
            width: valueWidth,
            lines: values,
            type: plain,
          });
        },
      };
    }),
  );
};

export const layTicks = ({ columns, items }: PaperTicks, room: Room): readonly Piece[] => {
  const { style, ruler } = room;
  const { size, plain, line } = style;
  const box = 1.15 * size;
  return layGrid(
    columns,
    room,
    items.map(({ text, ticked }) => (width) => {
      const textWidth = width - 1.8 * size;
      const lines = cellLines(ruler, text, plain, textWidth);
      return {
        height: Math.max(lines.length * line, box) + 0.55 * size,
        draw: (pen, x, y) => {
          pen.path(`M${x} ${y}h${box}v${box}h${-box}Z`, { stroke: FINE });
          if (ticked)
            pen.path(
              `M${x + 0.2 * box} ${y + 0.55 * box}L${x + 0.42 * box} ${y + 0.8 * box}L${x + 0.9 * box} ${y + 0.1 * box}`,
              { stroke: { grey: 0, width: 0.16 * size } },
            );
          drawCell(pen, text, {
            x: x + 1.8 * size,
            y: y + 0.05 * size,
            width: textWidth,
            lines,
            align: 'left',
            type: plain,
            line,
          });
        },
      };
    }),
  );
};

/** Lines far enough apart for a pencil: 7 mm, as ruled paper has; common practice, no source. */
const RULED = 20;

export const layPencil = ({ label, lines }: PaperPencil, { width, style }: Room): Piece => ({
  height: lines * RULED + style.gap,
  draw: (pen, x, y) => {
    for (let index = 1; index <= lines; index += 1)
      pen.path(`M${x} ${y + index * RULED}H${x + width}`, { stroke: HAIR });
    pen.text(label, { x, y: y + RULED - 3 }, style.quiet);
  },
});
