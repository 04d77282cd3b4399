/**
 * What every command does first: the packages are those of the lock file, and the script runs on
 * the Node that comes with them. Runs on any Node from 20 and needs no package.
 */
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, readFileSync, realpathSync } from 'node:fs';
import { constants } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

/** The folder that holds `package.json`. */
export const rootFolder = fileURLToPath(new URL('../..', import.meta.url));

/**
 * Where the Node that the packages bring is, or null where there is none for this platform. Not by
 * way of `node_modules/.bin`: npm 10 takes that link away again with the other platforms' packages.
 *
 * @param {string} root
 * @param {string} [platform]
 * @param {string} [arch]
 */
export const packagedNode = (root, platform = process.platform, arch = process.arch) => {
  const [name, program] = platform === 'win32' ? ['win', 'node.exe'] : [platform, 'node'];
  const file = path.join(root, 'node_modules', `node-${name}-${arch}`, 'bin', program);
  return existsSync(file) ? file : null;
};

/**
 * Whether a Node of this version runs TypeScript by stripping types without a flag: from 22.18 on.
 *
 * @param {string} version
 */
export const runsTypeScript = (version) => {
  const [major = 0, minor = 0] = version.split('.').map(Number);
  return major > 22 || (major === 22 && minor >= 18);
};

/**
 * @typedef {Record<string, { version?: string, integrity?: string, optional?: boolean }>} Packages
 * @param {string} file
 * @returns {Packages | null}
 */
const readPackages = (file) => {
  try {
    return JSON.parse(readFileSync(file, 'utf8')).packages ?? null;
  } catch {
    return null;
  }
};

/**
 * Whether what is installed is what the lock file says. The stamp is the one that npm itself leaves
 * at the end of an install: it is absent after one that was broken off, and true after one by hand.
 * Optional packages may be missing, as they are on a platform that they are not made for.
 *
 * @param {string} root
 */
export const isInstalled = (root) => {
  const wanted = readPackages(path.join(root, 'package-lock.json'));
  const found = readPackages(path.join(root, 'node_modules', '.package-lock.json'));
  if (!wanted || !found) return false;
  for (const [name, entry] of Object.entries(wanted)) {
    if (name === '' || (entry.optional && !found[name])) continue;
    if (found[name]?.version !== entry.version || found[name]?.integrity !== entry.integrity)
      return false;
  }
  return Object.keys(found).every((name) => name in wanted);
};

/**
 * Ends with one line of what is wrong and what to do.
 *
 * @param {string} line
 * @returns {never}
 */
export const giveUp = (line) => {
  process.stderr.write(`${line}\n`);
  process.exit(1);
};

/** @param {string} root */
const install = (root) => {
  process.stderr.write('Installing the packages of package-lock.json (about a minute)…\n');
  const flags = ['ci', '--include=dev', '--include=optional', '--no-audit', '--no-fund'];
  // `npm start` names its own npm; a script that is started by hand uses the one on the PATH.
  const npm = process.env['npm_execpath'];
  const [program, args] =
    npm && /npm-cli\.c?js$/.test(npm) ? [process.execPath, [npm, ...flags]] : ['npm', flags];
  const done = spawnSync(program, args, {
    cwd: root,
    encoding: 'utf8',
    maxBuffer: 1 << 26,
    // npm is a .cmd file on Windows.
    shell: program === 'npm' && process.platform === 'win32',
  });
  if (done.status === 0) return;
  process.stderr.write(`${done.stdout ?? ''}${done.stderr ?? ''}`);
  const how = done.error?.message ?? `npm ci ended with ${done.status ?? done.signal}`;
  giveUp(`The install failed (${how}): look above, then run the command again.`);
};

/**
 * Runs a program as if it were this one: its output, its signals, its exit code.
 *
 * @param {string} file
 * @param {readonly string[]} args
 * @returns {Promise<number>} The exit code; 128 and the signal's number where a signal ended it.
 */
export const passOn = async (file, args) => {
  const child = spawn(file, args, { stdio: 'inherit' });
  /** @type {(signal: NodeJS.Signals) => void} */
  const pass = (signal) => {
    // From a terminal the child gets it too; from a supervisor only this process does.
    if (signal !== 'SIGINT' || !process.stdin.isTTY) child.kill(signal);
  };
  /** @type {NodeJS.Signals[]} */
  const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'];
  for (const signal of signals) process.on(signal, pass);
  const code = await new Promise((settle) => {
    child.once('error', (error) => {
      process.stderr.write(`Cannot run ${file}: ${error.message}\n`);
      settle(1);
    });
    child.once('exit', (exit, signal) =>
      settle(exit ?? 128 + (signal ? constants.signals[signal] : 0)),
    );
  });
  for (const signal of signals) process.off(signal, pass);
  return code;
};

/** How soon an ended npm is noticed; common practice, no source. */
const SHELL_WATCH_MS = 500;

/**
 * npm runs a script through a shell. Ended by a signal it ends the shell, which hands nothing on, so
 * that the script would run on with nobody to stop it: it then ends as if it had had the signal.
 *
 * @param {Readonly<Record<string, string | undefined>>} [environment]
 */
export const endWithNpm = (environment = process.env) => {
  if (environment['npm_lifecycle_event'] === undefined || process.platform === 'win32') return;
  const shell = process.ppid;
  const watch = setInterval(() => {
    if (process.ppid === shell) return;
    clearInterval(watch);
    process.kill(process.pid, 'SIGTERM');
  }, SHELL_WATCH_MS);
  watch.unref();
};

/**
 * Installs what is missing and returns once the script runs on a Node that can run the product; on
 * another one it runs the script again on the packaged Node and ends with its exit code.
 *
 * @param {string} scriptUrl `import.meta.url` of the script that calls.
 */
export const prepare = async (scriptUrl) => {
  endWithNpm();
  if (!isInstalled(rootFolder)) install(rootFolder);
  const node = packagedNode(rootFolder);
  if (node) {
    if (realpathSync(node) === realpathSync(process.execPath)) return;
    process.exit(await passOn(node, [fileURLToPath(scriptUrl), ...process.argv.slice(2)]));
  }
  if (runsTypeScript(process.versions.node)) return;
  giveUp(
    `No Node is packaged for ${process.platform}-${process.arch} and this one is ${process.versions.node}: install Node 24 (22.18 at least) and run the command again.`,
  );
};
