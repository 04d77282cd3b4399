/**
 * Runs a TypeScript program of the repository, after installing what is missing, on a Node that can:
 * `node build/scripts/run.mjs FILE [arguments]`.
 */
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { giveUp, prepare, rootFolder } from './prepare.mjs';

await prepare(import.meta.url);
const [file, ...rest] = process.argv.slice(2);
if (!file) giveUp('Which program? node build/scripts/run.mjs FILE [arguments]');
else {
  const program = path.resolve(rootFolder, file);
  process.argv = [process.execPath, program, ...rest];
  await import(pathToFileURL(program).href);
}
