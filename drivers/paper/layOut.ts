import type { PaperBeside, PaperBlock } from '../../core/paper/paperDocument.ts';
import { layPlan } from './layPlan.ts';
import { layPlot } from './layPlot.ts';
import { layTable } from './layTable.ts';
import { layFacts, layHeading, layPencil, layText, layTicks, type Room } from './layText.ts';
import type { Piece } from './piece.ts';

/** Parts side by side, each from the same top. */
const layBeside = ({ parts }: PaperBeside, room: Room): Piece => {
  const between = 2 * room.style.size;
  const shares = parts.reduce((sum, { share }) => sum + share, 0);
  const available = room.width - (parts.length - 1) * between;
  let start = 0;
  const placed = parts.map(({ share, blocks }) => {
    const width = (share / shares) * available;
    const pieces = layOut(blocks, { ...room, width });
    const at = start;
    start += width + between;
    return { at, pieces, height: pieces.reduce((sum, { height }) => sum + height, 0) };
  });
  return {
    height: Math.max(...placed.map(({ height }) => height)),
    draw: (pen, x, y) => {
      for (const { at, pieces } of placed) {
        let top = y;
        for (const piece of pieces) {
          piece.draw(pen, x + at, top);
          top += piece.height;
        }
      }
    },
  };
};

/** Rows that stay on one page, with a gap after the last. */
const together = (pieces: readonly Piece[], { style }: Room): readonly Piece[] =>
  pieces.map((piece, index) =>
    index < pieces.length - 1
      ? { ...piece, keepNext: true }
      : { ...piece, height: piece.height + style.gap },
  );

const layBlock = (block: PaperBlock, room: Room): readonly Piece[] => {
  switch (block.is) {
    case 'heading':
      return [layHeading(block, room)];
    case 'text':
      return [layText(block, room)];
    case 'facts':
      return together(layFacts(block, room), room);
    case 'table':
      return layTable(block, room);
    case 'ticks':
      return together(layTicks(block, room), room);
    case 'pencil':
      return [layPencil(block, room)];
    case 'plan':
      return [layPlan(block, room)];
    case 'plot':
      return [layPlot(block, room)];
    case 'beside':
      return [layBeside(block, room)];
  }
};

/** Blocks as pieces from top to bottom. */
export const layOut = (blocks: readonly PaperBlock[], room: Room): readonly Piece[] =>
  blocks.flatMap((block) => layBlock(block, room));
