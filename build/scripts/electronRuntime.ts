import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';

/**
 * Whether the desktop window can be opened here, and with what. Electron's package carries no
 * runtime: it is fetched on first use, which a firewall may forbid. Its package is never imported,
 * since that alone would start the fetch without a limit.
 */

/** A fetch may hold up a start this long; common practice, no source. */
const FETCH_LIMIT_MS = 20_000;
/** A fetch that failed is not tried again for a day. */
const FAILURE_HOLDS_MS = 24 * 3600 * 1000;

type Environment = Readonly<Record<string, string | undefined>>;

export interface Machine {
  readonly platform: string;
  readonly environment: Environment;
  /** The user's number; null where there are none. Zero is root. */
  readonly userId: number | null;
}

export const thisMachine = (): Machine => ({
  platform: process.platform,
  environment: process.env,
  userId: process.getuid?.() ?? null,
});

/** Why no window can be opened here, whatever the runtime; null where it can. */
export const whyNoDisplay = ({ platform, environment, userId }: Machine): string | null => {
  if (platform !== 'linux') return null;
  if (!environment['DISPLAY'] && !environment['WAYLAND_DISPLAY']) return 'there is no display';
  // Chromium refuses to start as root with its sandbox, and the sandbox stays on.
  if (userId === 0) return 'it does not open for root';
  return null;
};

/** The runtime's program file; null where it has not been fetched. */
export const electronProgram = (root: string, environment: Environment): string | null => {
  const folder = path.join(root, 'node_modules', 'electron');
  const named = path.join(folder, 'path.txt');
  if (!existsSync(named)) return null;
  const dist = environment['ELECTRON_OVERRIDE_DIST_PATH'] ?? path.join(folder, 'dist');
  const program = path.join(dist, readFileSync(named, 'utf8'));
  return existsSync(program) ? program : null;
};

export interface Fetching {
  /** Tells the user what takes time. */
  readonly say: (line: string) => void;
  readonly limitMs?: number;
}

const failureFile = (root: string): string =>
  path.join(root, 'node_modules', '.cache', 'millpond', 'electron-not-fetched');

const failedLately = (root: string): boolean => {
  const failed = statSync(failureFile(root), { throwIfNoEntry: false });
  return failed !== undefined && Date.now() - failed.mtimeMs < FAILURE_HOLDS_MS;
};

/**
 * Fetches the runtime, hidden, for as long as the limit. A slow fetch goes on behind the page and
 * serves the next start; it ends when this process ends. Null when it is there, else why not.
 */
const fetchRuntime = async (
  root: string,
  { say, limitMs = FETCH_LIMIT_MS }: Fetching,
): Promise<string | null> => {
  const installer = path.join(root, 'node_modules', 'electron', 'install.js');
  if (!existsSync(installer)) return "Electron's package is not installed";
  say("Fetching Electron's runtime…");
  const child = spawn(process.execPath, [installer], { cwd: root, stdio: 'ignore' });
  const stop = (): boolean => child.kill();
  process.once('exit', stop);
  let timer: NodeJS.Timeout | undefined;
  const outcome = await Promise.race([
    new Promise<'fetched' | 'failed'>((settle) => {
      child.once('error', () => settle('failed'));
      child.once('exit', (code) => settle(code === 0 ? 'fetched' : 'failed'));
    }),
    new Promise<'slow'>((settle) => {
      timer = setTimeout(() => settle('slow'), limitMs);
    }),
  ]);
  clearTimeout(timer);
  if (outcome !== 'slow') process.off('exit', stop);
  child.unref();
  if (outcome === 'fetched') {
    rmSync(failureFile(root), { force: true });
    return null;
  }
  mkdirSync(path.dirname(failureFile(root)), { recursive: true });
  writeFileSync(failureFile(root), outcome);
  return outcome === 'slow'
    ? "Electron's runtime is still being fetched"
    : "Electron's runtime cannot be fetched here";
};

export type Found = { readonly program: string } | { readonly why: string };

/** The program that opens the window, or half a sentence on why there is none. */
export const findElectron = async (
  root: string,
  machine: Machine,
  fetching: Fetching,
): Promise<Found> => {
  const why = whyNoDisplay(machine);
  if (why) return { why };
  const there = electronProgram(root, machine.environment);
  if (there) return { program: there };
  if (failedLately(root))
    return {
      why: "Electron's runtime could not be fetched in the last 24 hours (node_modules/electron/install.js tries again)",
    };
  const notFetched = await fetchRuntime(root, fetching);
  if (notFetched) return { why: notFetched };
  const program = electronProgram(root, machine.environment);
  return program ? { program } : { why: "Electron's runtime is not where its package says" };
};
