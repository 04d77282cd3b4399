import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { passOn } from './prepare.mjs';

const SOURCE_FOLDERS = ['core', 'drivers', 'electron', 'renderer', 'build/vite'];
const SOURCE_FILES = ['package.json', 'package-lock.json', 'build/scripts/build.ts'];

/** Written last: a build that broke off leaves no stamp and is done again. */
const stampFile = (root: string): string => path.join(root, 'dist', '.stamp');

const filesBelow = (folder: string): string[] =>
  readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.join(entry.parentPath, entry.name))
    .toSorted();

/** A hash of the names and contents of all that goes into the build. */
export const hashSources = (root: string): string => {
  const there = (name: string): boolean => existsSync(path.join(root, name));
  const folders = SOURCE_FOLDERS.filter(there).map((name) => path.join(root, name));
  const files = SOURCE_FILES.filter(there).map((name) => path.join(root, name));
  const hash = createHash('sha256');
  for (const file of [...folders.flatMap(filesBelow), ...files]) {
    const content = readFileSync(file);
    hash.update(`${path.relative(root, file)}\0${content.length}\0`).update(content);
  }
  return hash.digest('hex');
};

/**
 * Builds the product when its sources are not those that `dist/` was built from. The bundler runs in
 * a process of its own, so that nothing of it stays beside the product.
 *
 * @returns null when `dist/` is up to date, else one line of what went wrong.
 */
export const buildIfChanged = async (root: string): Promise<string | null> => {
  const hash = hashSources(root);
  const stamp = stampFile(root);
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === hash) return null;
  process.stderr.write('Building…\n');
  rmSync(stamp, { force: true });
  const code = await passOn(process.execPath, [path.join(root, 'build/scripts/build.ts')]);
  if (code !== 0) return 'The build failed: the reason stands above.';
  mkdirSync(path.dirname(stamp), { recursive: true });
  writeFileSync(stamp, hash);
  return null;
};
