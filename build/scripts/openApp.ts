import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { buildIfChanged } from './buildIfChanged.ts';
import { findElectron, thisMachine } from './electronRuntime.ts';
import { writeFlags, type Flags } from './flags.mjs';
import { compileRadioLibrary } from './radioLibrary.ts';
import { giveUp, passOn, rootFolder } from './prepare.mjs';

/** A window that ends with an error sooner than this never opened: a library or its sandbox failed. */
const OPENS_WITHIN_MS = 5000;

const say = (line: string): void => {
  process.stderr.write(`${line}\n`);
};

const openPage = async (flags: readonly string[]): Promise<void> => {
  const host = path.join(rootFolder, 'dist/electron/pageHost.js');
  process.argv = [process.execPath, host, ...flags];
  await import(pathToFileURL(host).href);
};

/** Builds what has changed, then opens the desktop window, or says in one line why it serves the page. */
export const openApp = async (given: Flags): Promise<void> => {
  const failed = await buildIfChanged(rootFolder);
  if (failed) giveUp(failed);
  compileRadioLibrary(rootFolder, process.platform, { say });
  const flags = writeFlags(given);
  if (given.page) return openPage(flags);

  const found = await findElectron(rootFolder, thisMachine(), { say });
  let why = 'why' in found ? found.why : null;
  if ('program' in found) {
    const started = performance.now();
    const main = path.join(rootFolder, 'dist/electron/main.js');
    const code = await passOn(found.program, [main, ...flags]);
    // 128 and more is a signal: somebody ended it.
    const opened = code === 0 || code > 128 || performance.now() - started > OPENS_WITHIN_MS;
    if (opened) process.exit(code);
    why = `Electron ended at once with ${code}`;
  }
  say(`No desktop window: ${why}. Serving the page instead.`);
  return openPage(flags);
};
