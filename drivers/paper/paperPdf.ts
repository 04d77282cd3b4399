import type { PaperDocument } from '../../core/paper/paperDocument.ts';
import { layOut } from './layOut.ts';
import { paginate, type PlacedPiece } from './paginate.ts';
import { openPdf, type PageSize, type PaperFonts } from './pdf.ts';
import type { Pen, Ruler, Type } from './pen.ts';
import { HAIR, styleOf, type Style } from './piece.ts';
import { LACKING, printableAll } from './printable.ts';

export type { PaperFonts } from './pdf.ts';

/** Points: 210 × 297 mm (ISO 216), and 8.5 × 11 inches. */
const SIZES = {
  A4: { width: 595.28, height: 841.89 },
  letter: { width: 612, height: 792 },
} as const satisfies Record<string, PageSize>;

export type PaperSize = keyof typeof SIZES;

/** 14 mm, which every printer reaches and a clipboard's clip leaves free; common practice, no source. */
const MARGIN = 40;
const FOOT = 22;
/** Sizes of text, largest first: a paper of one page takes the first that fits. Points. */
const TEXT_SIZES = [8.5, 8, 7.5, 7, 6.5, 6] as const;
const STAMP_GREY = 0.88;

/** Room of kind and title, in sizes of the text. */
const HEAD = 4.4;

interface Laid {
  readonly style: Style;
  readonly pages: readonly (readonly PlacedPiece[])[];
}

const lay = (paper: PaperDocument, size: PageSize, ruler: Ruler): Laid => {
  const sizes = paper.pages === 'one' ? TEXT_SIZES : ([TEXT_SIZES[0]] as const);
  const laid = sizes.map((text) => (): Laid => {
    const style = styleOf(text);
    const pieces = layOut(paper.blocks, { width: size.width - 2 * MARGIN, style, ruler });
    const room = size.height - 2 * MARGIN - FOOT;
    // The title takes its room from the first page alone, as a piece like the others.
    const title = { height: HEAD * style.size, draw: () => {} };
    return { style, pages: paginate([title, ...pieces], room) };
  });
  for (const make of laid) {
    const made = make();
    if (made.pages.length === 1 || make === laid.at(-1)) return made;
  }
  throw new Error('a paper has at least one size of text');
};

/** The word across the page, along its diagonal, under everything else. */
const drawStamp = (pen: Pen, word: string, { width, height }: PageSize): void => {
  const text = word.toUpperCase();
  const angle = Math.atan2(height, width);
  const one: Type = { size: 1, strong: true, grey: STAMP_GREY };
  const size = Math.min(110, (0.72 * Math.hypot(width, height)) / pen.widthOf(text, one));
  const along = pen.widthOf(text, { ...one, size });
  const rise = 0.36 * size;
  pen.text(
    text,
    {
      x: width / 2 - (along / 2) * Math.cos(angle) + rise * Math.sin(angle),
      y: height / 2 + (along / 2) * Math.sin(angle) + rise * Math.cos(angle),
    },
    { ...one, size },
    (angle * 180) / Math.PI,
  );
};

/** The type, or one so much smaller that the text fits on its line. */
const fitting = (ruler: Ruler, text: string, type: Type, width: number): Type => ({
  ...type,
  size: Math.min(type.size, (type.size * width) / Math.max(1, ruler.widthOf(text, type))),
});

const drawTitle = (pen: Pen, { kind, title }: PaperDocument, style: Style, width: number): void => {
  const { size, quiet } = style;
  pen.text(kind, { x: MARGIN, y: MARGIN + size }, quiet);
  const large = fitting(pen, title, { ...style.strong, size: 1.8 * size }, width - 2 * MARGIN);
  pen.text(title, { x: MARGIN, y: MARGIN + 3 * size }, large);
  const rule = MARGIN + 3.7 * size;
  pen.path(`M${MARGIN} ${rule}H${width - MARGIN}`, { stroke: { grey: 0, width: 1.1 } });
};

/** Whether any text of the paper had to do without a letter, told from the paper as it was. */
const lacks = (before: PaperDocument, after: PaperDocument): boolean => {
  const marks = (paper: PaperDocument): number => JSON.stringify(paper).split(LACKING).length;
  return marks(after) > marks(before);
};

/**
 * Lays a paper out and makes it a PDF, in plain Node: the same paper gives the same bytes. Text is
 * real text in the face given; letters it lacks are replaced by their likeness, and where there is none by
 * a question mark, which the foot then says. Rejects where the bytes of a face cannot be read.
 */
export const paperPdf = async (
  paper: PaperDocument,
  options: { readonly size: PaperSize; readonly fonts: PaperFonts },
): Promise<Uint8Array> => {
  const size = SIZES[options.size];
  const { created, kind, title } = paper;
  const pdf = await openPdf({ title: `${kind}: ${title}`, created, size, fonts: options.fonts });
  const { pen } = pdf;
  const shown = printableAll(paper, (character) => pdf.hasCharacter(character));
  const foot = lacks(paper, shown)
    ? `${shown.foot}. ${LACKING} stands for a letter that this face lacks.`
    : shown.foot;
  const { style, pages } = lay(shown, size, pen);
  pages.forEach((pieces, index) => {
    pdf.addPage();
    if (shown.stamp !== null) drawStamp(pen, shown.stamp, size);
    if (index === 0) drawTitle(pen, shown, style, size.width);
    for (const { piece, top } of pieces) piece.draw(pen, MARGIN, MARGIN + top);
    const base = size.height - MARGIN;
    pen.path(`M${MARGIN} ${base - 11}H${size.width - MARGIN}`, { stroke: HAIR });
    const number = `Page ${index + 1} of ${pages.length}`;
    const x = size.width - MARGIN - pen.widthOf(number, style.quiet);
    pen.text(number, { x, y: base }, style.quiet);
    const footRoom = x - MARGIN - style.size;
    pen.text(foot, { x: MARGIN, y: base }, fitting(pen, foot, style.quiet, footRoom));
  });
  return pdf.finish();
};
