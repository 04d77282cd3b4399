import type PDFDocument from 'pdfkit';
import type { Ink, Pen, Type } from './pen.ts';

/**
 * The one home of the PDF library. It is loaded when the first paper is made, not when the program starts;
 * its own faces are never used: they have no true minus, and lie in files that a bundle loses.
 */

/** Bytes of a face in two weights (WOFF, TrueType or OpenType); the host knows where they lie. */
export interface PaperFonts {
  readonly regular: Uint8Array;
  readonly bold: Uint8Array;
}

export interface PageSize {
  /** Points. */
  readonly width: number;
  readonly height: number;
}

export interface Pdf {
  readonly pen: Pen;
  /** Whether both weights have a character. */
  hasCharacter(character: string): boolean;
  /** Begins a page; nothing can be drawn before the first. */
  addPage(): void;
  /** Ends the file; the same calls have given the same bytes. */
  finish(): Promise<Uint8Array>;
}

const hex = (grey: number): string => {
  const part = Math.round(255 * grey)
    .toString(16)
    .padStart(2, '0');
  return `#${part}${part}${part}`;
};

/** The library has no public way to ask a face for a character. */
interface FaceInside {
  readonly _font: { readonly font: { hasGlyphForCodePoint(codePoint: number): boolean } };
}

const drawPath = (doc: PDFKit.PDFDocument, d: string, { fill, stroke }: Ink): void => {
  doc.save().path(d);
  if (stroke) {
    doc.lineWidth(stroke.width).lineJoin('round').lineCap('round').strokeColor(hex(stroke.grey));
    if (stroke.dash !== undefined) doc.dash(stroke.dash, { space: stroke.dash });
  }
  if (fill !== undefined) doc.fillColor(hex(fill));
  if (fill !== undefined && stroke) doc.fillAndStroke();
  else if (stroke) doc.stroke();
  else doc.fill();
  doc.restore();
};

/** Begins a file. `created`: milliseconds since 1970 UTC, the only time in it. */
export const openPdf = async (options: {
  readonly title: string;
  readonly created: number;
  readonly size: PageSize;
  readonly fonts: PaperFonts;
}): Promise<Pdf> => {
  const { size, fonts, title, created } = options;
  const { default: Document } = (await import('pdfkit')) as { default: typeof PDFDocument };
  const doc = new Document({
    size: [size.width, size.height],
    margin: 0,
    autoFirstPage: false,
    // No face to begin with: the default would be read from a file.
    font: '',
    pdfVersion: '1.7',
    lang: 'en',
    displayTitle: true,
    info: {
      Title: title,
      Creator: 'Millpond',
      // oxlint-disable-next-line no-restricted-globals -- the library takes a time as a Date only
      CreationDate: new Date(created),
    },
  });
  doc.registerFont('regular', Buffer.from(fonts.regular));
  doc.registerFont('bold', Buffer.from(fonts.bold));
  const chunks: Uint8Array[] = [];
  doc.on('data', (chunk: Uint8Array) => void chunks.push(chunk));

  const face = ({ size: points, strong }: Type): PDFKit.PDFDocument =>
    doc.font(strong ? 'bold' : 'regular').fontSize(points);
  return {
    pen: {
      widthOf: (text, type) => face(type).widthOfString(text),
      text: (text, { x, y }, type, turn = 0) => {
        face(type).fillColor(hex(type.grey));
        if (turn !== 0) doc.save().rotate(-turn, { origin: [x, y] });
        doc.text(text, x, y, { lineBreak: false, baseline: 'alphabetic' });
        if (turn !== 0) doc.restore();
      },
      path: (d, ink) => drawPath(doc, d, ink),
    },
    hasCharacter: (character) =>
      (['regular', 'bold'] as const).every((weight) => {
        doc.font(weight);
        const { font } = (doc as unknown as FaceInside)._font;
        return font.hasGlyphForCodePoint(character.codePointAt(0) ?? 0);
      }),
    addPage: () => void doc.addPage(),
    finish: () =>
      new Promise((resolve, reject) => {
        doc.on('error', reject);
        doc.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks))));
        doc.end();
      }),
  };
};
