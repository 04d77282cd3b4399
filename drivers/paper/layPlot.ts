import type { PaperPlot, PaperPoint, PaperSeries } from '../../core/paper/paperDocument.ts';
import type { Room } from './layText.ts';
import type { Ink, Pen } from './pen.ts';
import { HAIR, type Piece } from './piece.ts';

/** Height of the plotting area over its width; common practice, no source. */
const SHAPE = 0.5;

const LINE: Ink = { stroke: { grey: 0, width: 0.8 } };
const DASHED: Ink = { stroke: { grey: 0.25, width: 0.7, dash: 2.5 } };

/** A triangle about a point: rising ones are empty, falling ones filled, so that they differ twice. */
const triangle = (pen: Pen, drawn: 'up' | 'down', x: number, y: number, size: number): void => {
  const r = 0.36 * size;
  const s = drawn === 'up' ? -1 : 1;
  pen.path(`M${x} ${y + s * r}L${x + r} ${y - s * r}L${x - r} ${y - s * r}Z`, {
    stroke: { grey: 0, width: 0.7 },
    fill: drawn === 'up' ? 1 : 0,
  });
};

const drawSeries = (
  pen: Pen,
  { drawn, paths }: PaperSeries,
  place: (point: PaperPoint) => readonly [x: number, y: number],
  size: number,
): void => {
  for (const path of paths) {
    const placed = path.map(place);
    if (drawn === 'up' || drawn === 'down')
      for (const [x, y] of placed) triangle(pen, drawn, x, y, size);
    else if (placed.length > 1)
      pen.path(
        `M${placed.map(([x, y]) => `${x} ${y}`).join('L')}`,
        drawn === 'line' ? LINE : DASHED,
      );
  }
};

/** Axes with their ticks, the line of zero, each series, and their names underneath. */
export const layPlot = (plot: PaperPlot, { width, style, ruler }: Room): Piece => {
  const { size, quiet, strong } = style;
  const { across, up, series } = plot;
  const tickWidth = Math.max(...up.ticks.map(({ text }) => ruler.widthOf(text, quiet)));
  const left = tickWidth + 0.8 * size;
  const top = 3.1 * size;
  const wide = width - left - 0.8 * size;
  const high = SHAPE * width;
  const height = top + high + 4.3 * size;

  return {
    height: height + style.gap,
    draw: (pen, x, y) => {
      const place = ([a, u]: PaperPoint): readonly [number, number] => [
        x + left + ((a - across.from) / (across.to - across.from)) * wide,
        y + top + (1 - (u - up.from) / (up.to - up.from)) * high,
      ];
      pen.text(plot.title, { x, y: y + size }, strong);
      pen.text(up.label, { x, y: y + 2.3 * size }, quiet);
      for (const { at, text } of up.ticks) {
        const [start, level] = place([across.from, at]);
        pen.path(`M${start} ${level}h${wide}`, {
          stroke: at === 0 ? { grey: 0, width: 0.6 } : { ...HAIR, grey: 0.8 },
        });
        const textAt = start - 0.5 * size - pen.widthOf(text, quiet);
        pen.text(text, { x: textAt, y: level + 0.3 * size }, quiet);
      }
      for (const { at, text } of across.ticks) {
        const [middle, foot] = place([at, up.from]);
        pen.path(`M${middle} ${foot}v${0.35 * size}`, { stroke: HAIR });
        const textAt = middle - pen.widthOf(text, quiet) / 2;
        pen.text(text, { x: textAt, y: foot + 1.3 * size }, quiet);
      }
      for (const each of series) drawSeries(pen, each, place, size);

      const foot = y + top + high + 2.5 * size;
      const labelAt = x + left + (wide - pen.widthOf(across.label, quiet)) / 2;
      pen.text(across.label, { x: labelAt, y: foot }, quiet);
      let keyAt = x + left;
      for (const { name, drawn } of series) {
        const keyWidth = drawn === 'up' || drawn === 'down' ? 1.4 * size : 2.6 * size;
        const level = foot + 1.15 * size;
        const key: readonly PaperPoint[] =
          drawn === 'up' || drawn === 'down'
            ? [[keyAt + 0.5 * size, level]]
            : [
                [keyAt, level],
                [keyAt + 2 * size, level],
              ];
        drawSeries(pen, { name, drawn, paths: [key] }, (point) => point, size);
        pen.text(name, { x: keyAt + keyWidth, y: foot + 1.45 * size }, quiet);
        keyAt += keyWidth + pen.widthOf(name, quiet) + 1.4 * size;
      }
    },
  };
};
