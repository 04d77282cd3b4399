import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';

/**
 * On macOS and Windows the Bluetooth library is native code that comes as source. It is compiled
 * once, before the first start, where a compiler is there; where that fails the app says so when
 * Bluetooth is asked for, and everything else works. On Linux there is nothing to compile.
 */

/** A compile may hold up a start this long; common practice, no source. */
const LIMIT_MS = 180_000;
/** A compile that failed is not tried again for a day. */
const FAILURE_HOLDS_MS = 24 * 3600 * 1000;

export interface Compiling {
  readonly say: (line: string) => void;
  /** Runs npm with these arguments in the folder; true where it ended well. */
  readonly npm?: (folder: string, args: readonly string[]) => boolean;
}

const runNpm = (folder: string, args: readonly string[]): boolean =>
  spawnSync('npm', args, {
    cwd: folder,
    stdio: 'ignore',
    timeout: LIMIT_MS,
    // npm is a .cmd file on Windows.
    shell: process.platform === 'win32',
  }).status === 0;

/** Compiles the library where this platform needs it and it is not there yet. */
export const compileRadioLibrary = (
  root: string,
  platform: string,
  { say, npm = runNpm }: Compiling,
): void => {
  if (platform !== 'darwin' && platform !== 'win32') return;
  const library = path.join(root, 'node_modules', '@abandonware', 'noble');
  if (existsSync(path.join(library, 'build', 'Release'))) return;
  const failure = path.join(root, 'node_modules', '.cache', 'millpond', 'radio-not-compiled');
  const failed = statSync(failure, { throwIfNoEntry: false });
  if (failed && Date.now() - failed.mtimeMs < FAILURE_HOLDS_MS) return;
  say('Compiling the Bluetooth library, once…');
  if (npm(root, ['rebuild', '@abandonware/noble', '--ignore-scripts=false'])) return;
  mkdirSync(path.dirname(failure), { recursive: true });
  writeFileSync(failure, '');
  say(
    'The Bluetooth library could not be compiled (see README): the practice rig works without it.',
  );
};
