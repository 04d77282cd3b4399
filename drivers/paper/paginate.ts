import type { Piece } from './piece.ts';

/** A piece and how far below the top of its page it begins. */
export interface PlacedPiece {
  readonly piece: Piece;
  readonly top: number;
}

/**
 * Puts pieces on pages of a height. What must not be the last of a page goes over with the piece after
 * it; a table that goes on over a page begins with its head again. A piece higher than a page stands alone.
 */
export const paginate = (
  pieces: readonly Piece[],
  height: number,
): readonly (readonly PlacedPiece[])[] => {
  const pages: PlacedPiece[][] = [[]];
  let top = 0;
  const place = (piece: Piece): void => {
    pages.at(-1)?.push({ piece, top });
    top += piece.height;
  };
  for (let index = 0; index < pieces.length;) {
    // The run of pieces that must stay together.
    let end = index + 1;
    while (end < pieces.length && pieces[end - 1]?.keepNext) end += 1;
    const run = pieces.slice(index, end);
    const together = run.reduce((sum, piece) => sum + piece.height, 0);
    if (top > 0 && top + together > height) {
      pages.push([]);
      top = 0;
      const again = run[0]?.again;
      if (again) place(again);
    }
    for (const piece of run) place(piece);
    index = end;
  }
  return pages;
};
