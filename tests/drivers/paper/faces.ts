import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import type { PaperFonts } from '../../../drivers/paper/paperPdf.ts';

const folder = path.dirname(
  createRequire(import.meta.url).resolve('@fontsource/b612/package.json'),
);

const face = (weight: number): Uint8Array =>
  readFileSync(path.join(folder, `files/b612-latin-${weight}-normal.woff`));

/** The product's own face. */
export const faces: PaperFonts = { regular: face(400), bold: face(700) };
