import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { PaperPort } from '../core/bench/ports.ts';
import { paperPdf, type PaperFonts } from '../drivers/paper/paperPdf.ts';

/** Lays papers out in the product's own face, which lies in `folder`; read when the first is made. */
export const createPapers = (folder: string): PaperPort => {
  let fonts: PaperFonts | null = null;
  const face = (weight: number): Uint8Array =>
    readFileSync(path.join(folder, `b612-latin-${weight}-normal.woff`));
  return {
    pdf: async (paper, size) => {
      fonts ??= { regular: face(400), bold: face(700) };
      return Buffer.from(await paperPdf(paper, { size, fonts })).toString('base64');
    },
  };
};
