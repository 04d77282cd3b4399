import { CORNERS, type Corner } from '../../core/corners.ts';
import type { PaperPlan } from '../../core/paper/paperDocument.ts';
import type { Room } from './layText.ts';
import type { Pen } from './pen.ts';
import { cellLines, drawCell, FINE, HAIR, type Piece } from './piece.ts';

/** The car as the screen draws it, metres: body before and behind the axles, wheels, waist of the hull. */
const AHEAD = 0.72;
const BEHIND = 0.57;
const WHEEL = { length: 0.62, width: 0.28 } as const;
const WAIST = 0.8;
/** Height of the car on the paper and most of the width it may take, in sizes of the text and as a share. */
const HIGH = 24;
const MOST_WIDTH = 0.42;

/** Where things stand: points, x from the left of the block, y from its top. */
interface Geometry {
  /** Points per metre, the same both ways. */
  readonly scale: number;
  readonly centre: number;
  readonly frontAxle: number;
  readonly rearAxle: number;
}

const geometry = (plan: PaperPlan, width: number, height: number): Geometry => {
  const long = plan.wheelbase + AHEAD + BEHIND;
  const wide = Math.max(plan.trackFront, plan.trackRear) + WHEEL.width;
  const scale = Math.min(height / long, (MOST_WIDTH * width) / wide);
  const frontAxle = (height - long * scale) / 2 + AHEAD * scale;
  return { scale, centre: width / 2, frontAxle, rearAxle: frontAxle + plan.wheelbase * scale };
};

const hull = (plan: PaperPlan, { scale, centre, frontAxle }: Geometry, x: number, y: number) => {
  const half = (Math.max(plan.trackFront, plan.trackRear) / 2) * scale;
  const long = plan.wheelbase * scale;
  const down = (metres: number): number => y + frontAxle + metres * scale;
  const side = (s: 1 | -1): string => {
    const at = (part: number): number => x + centre + s * part * half;
    const along = (part: number): number => y + frontAxle + part * long;
    return `M${at(0)} ${down(-0.7)}C${at(0.4)} ${down(-0.7)} ${at(0.56)} ${down(-0.5)} ${at(0.6)} ${down(-0.05)}S${at(WAIST)} ${along(0.3)} ${at(WAIST)} ${along(0.5)}S${at(0.72)} ${along(0.85)} ${at(0.66)} ${along(1)}S${at(0.5)} ${along(1) + 0.55 * scale} ${at(0)} ${along(1) + 0.55 * scale}`;
  };
  return side(1) + side(-1);
};

const drawCar = (pen: Pen, plan: PaperPlan, at: Geometry, x: number, y: number): void => {
  const { scale, centre, frontAxle, rearAxle } = at;
  const axles = [
    { down: y + frontAxle, half: (plan.trackFront / 2) * scale },
    { down: y + rearAxle, half: (plan.trackRear / 2) * scale },
  ];
  pen.path(hull(plan, at, x, y), { stroke: HAIR });
  pen.path(`M${x + centre} ${y + frontAxle - 0.62 * scale}V${y + rearAxle + 0.47 * scale}`, {
    stroke: { ...HAIR, dash: 3 },
  });
  const [long, wide] = [WHEEL.length * scale, WHEEL.width * scale];
  for (const { down, half } of axles) {
    pen.path(`M${x + centre - half} ${down}H${x + centre + half}`, { stroke: HAIR });
    for (const side of [-1, 1])
      pen.path(
        `M${x + centre + side * half - wide / 2} ${down - long / 2}h${wide}v${long}h${-wide}Z`,
        { fill: 1, stroke: FINE },
      );
  }
  if (!plan.centre) return;
  const r = 3;
  const [across, down] = [
    x + centre - plan.centre.left * scale,
    y + frontAxle + plan.centre.behindFront * scale,
  ];
  pen.path(`M${across - r} ${down}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`, {
    fill: 1,
    stroke: FINE,
  });
  pen.path(
    `M${across - 2 * r} ${down}H${across + 2 * r}M${across} ${down - 2 * r}V${down + 2 * r}`,
    {
      stroke: FINE,
    },
  );
};

/** The car to scale in the middle, and at each wheel its block of words. */
export const layPlan = (plan: PaperPlan, room: Room): Piece => {
  const { width, style, ruler } = room;
  const { size, line, plain, quiet } = style;
  const label = { ...style.strong, size: 1.3 * size };
  const car = HIGH * size;
  const at = geometry(plan, width, car);
  const widest = Math.max(plan.trackFront, plan.trackRear) + WHEEL.width;
  const blockWidth = (width - widest * at.scale) / 2 - 0.8 * size;

  const block = (corner: Corner) => {
    const { label: name, lines } = plan.corners[corner];
    const cells = lines.map((cell) => ({
      cell,
      lines: cellLines(ruler, cell, plain, blockWidth),
      above: cell === null ? 0.5 * size : 0,
    }));
    const height =
      1.5 * label.size +
      cells.reduce((sum, each) => sum + each.above + each.lines.length * line, 0) +
      0.3 * size;
    return { name, cells, height };
  };
  const blocks = CORNERS.map((corner) => ({ corner, ...block(corner) }));
  const front = Math.max(...blocks.slice(0, 2).map(({ height }) => height));
  const rear = Math.max(...blocks.slice(2).map(({ height }) => height));
  const high = Math.max(car, front + rear + size);
  const middle = (high - car) / 2;
  // Blocks stand by their wheels where there is room, and never over one another.
  const frontTop = Math.min(
    Math.max(0, middle + at.frontAxle - front / 2),
    high - rear - size - front,
  );
  const rearTop = Math.max(
    frontTop + front + size,
    Math.min(high - rear, middle + at.rearAxle - rear / 2),
  );
  const belowLines = cellLines(ruler, plan.below, quiet, width);

  return {
    height: high + belowLines.length * 1.32 * quiet.size + style.gap,
    draw: (pen, x, y) => {
      drawCar(pen, plan, at, x, y + middle);
      for (const { corner, name, cells } of blocks) {
        const isLeft = corner === 'LF' || corner === 'LR';
        const left = isLeft ? x : x + width - blockWidth;
        const align = 'left';
        let top = y + (corner === 'LF' || corner === 'RF' ? frontTop : rearTop);
        const box = { x: left, width: blockWidth, align, line } as const;
        drawCell(pen, name, { ...box, y: top, lines: [name], type: label });
        top += 1.5 * label.size;
        pen.path(`M${left} ${top - 0.15 * size}H${left + blockWidth}`, { stroke: FINE });
        for (const { cell, lines, above } of cells) {
          top += above;
          drawCell(pen, cell, { ...box, y: top, lines, type: plain });
          top += lines.length * line;
        }
      }
      belowLines.forEach((text, index) => {
        const left = x + (width - pen.widthOf(text, quiet)) / 2;
        const base = y + high + (index + 1) * 1.2 * quiet.size;
        if (text !== '') pen.text(text, { x: left, y: base }, quiet);
      });
    },
  };
};
