import { execFileSync, spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { needs } from '../../support/needs.ts';
import { temporaryFolder } from '../../support/temporaryFolder.ts';

/** What reads PDF files here: another program than the one that writes them. */
export const poppler = needs({
  has: spawnSync('pdftotext', ['-v']).status === 0,
  reason: 'pdftotext is missing: apt-get install poppler-utils',
});

const inFile = (pdf: Uint8Array): string => {
  const file = path.join(temporaryFolder(), 'paper.pdf');
  writeFileSync(file, pdf);
  return file;
};

const ENTITIES: Readonly<Record<string, string>> = { lt: '<', gt: '>', quot: '"', amp: '&' };

/** Words of each page with a space between them, as the reader tells them apart by their places. */
export const pdfText = (pdf: Uint8Array): string[] =>
  execFileSync('pdftotext', ['-bbox', '-enc', 'UTF-8', inFile(pdf), '-'], { encoding: 'utf8' })
    .split('<page ')
    .slice(1)
    .map((page) =>
      [...page.matchAll(/<word [^>]*>(.*?)<\/word>/gu)]
        .map(([, word = '']) =>
          word.replaceAll(/&(\w+);/g, (_, name: string) => ENTITIES[name] ?? ''),
        )
        .join(' '),
    );

export const pdfInfo = (pdf: Uint8Array): Record<string, string> =>
  Object.fromEntries(
    execFileSync('pdfinfo', [inFile(pdf)], { encoding: 'utf8', env: { ...process.env, TZ: 'UTC' } })
      .split('\n')
      .map((line) => [line.split(':')[0] ?? '', line.slice(line.indexOf(':') + 1).trim()]),
  );

/** Name, and whether it is embedded, a subset, and has its characters, of each face in the file. */
export const pdfFonts = (pdf: Uint8Array): string[] =>
  execFileSync('pdffonts', [inFile(pdf)], { encoding: 'utf8' })
    .split('\n')
    .slice(2, -1);

export interface Picture {
  readonly width: number;
  readonly height: number;
  /** From 0 (black) to 255 (white), row by row. */
  readonly grey: Uint8Array;
}

/** One page as a picture of so many dots per inch (a PGM file: P5, size, depth, bytes). */
export const pdfPicture = (pdf: Uint8Array, page: number, dpi: number): Picture => {
  const at = ['-f', String(page), '-l', String(page)];
  const bytes = execFileSync('pdftoppm', ['-gray', '-r', String(dpi), ...at, inFile(pdf)], {
    maxBuffer: 1 << 27,
  });
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.subarray(0, 40).toString('latin1'));
  if (!head) throw new Error('no picture');
  const [width, height] = [Number(head[1]), Number(head[2])];
  return { width, height, grey: bytes.subarray(head[0].length) };
};

/** Bounds of what is darker than `limit`, as parts of the page; null where nothing is. */
export const inkBounds = (
  { width, height, grey }: Picture,
  limit: number,
): { left: number; right: number; top: number; bottom: number } | null => {
  let [left, right, top, bottom] = [Infinity, -Infinity, Infinity, -Infinity];
  grey.forEach((each, index) => {
    if (each >= limit) return;
    const [x, y] = [index % width, Math.floor(index / width)];
    [left, right] = [Math.min(left, x), Math.max(right, x)];
    [top, bottom] = [Math.min(top, y), Math.max(bottom, y)];
  });
  return right < left
    ? null
    : { left: left / width, right: right / width, top: top / height, bottom: bottom / height };
};
