import { existsSync, renameSync } from 'node:fs';
import { basename, dirname, extname, join } from 'node:path';
import { COMPANIONS } from './storeFiles.ts';

/** Digits only are used of it, so the language does not matter; the order of the fields does. */
const yearToSecond = new Intl.DateTimeFormat('sv-SE', {
  dateStyle: 'short',
  timeStyle: 'medium',
  timeZone: 'UTC',
});

/** A wall-clock label (ms) as part of a file name: 20260131T120500Z. */
const nameOfTime = (wallAt: number): string => {
  const digits = yearToSecond.format(wallAt).replaceAll(/\D/g, '');
  return `${digits.slice(0, 8)}T${digits.slice(8)}Z`;
};

/**
 * Sets a damaged database aside under a new name in its folder, with its log: renamed, never
 * opened, so not a byte changes. `millpond.db` becomes `millpond-damaged-<time>.db`. Gives the new
 * path. Throws what renaming throws.
 */
export const keepDamaged = (path: string, wallAt: number): string => {
  const extension = extname(path);
  const stem = `${basename(path, extension)}-damaged-${nameOfTime(wallAt)}`;
  let kept = join(dirname(path), `${stem}${extension}`);
  const taken = (candidate: string): boolean =>
    ['', ...COMPANIONS].some((companion) => existsSync(`${candidate}${companion}`));
  for (let n = 2; taken(kept); n += 1) kept = join(dirname(path), `${stem}-${n}${extension}`);
  // The log first: were the file moved alone and the power cut, a new file would meet an old log.
  for (const companion of [...COMPANIONS, ''])
    if (existsSync(`${path}${companion}`)) renameSync(`${path}${companion}`, `${kept}${companion}`);
  return kept;
};
