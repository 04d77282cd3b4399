/** The flags of `npm start`: read, checked and written out again for the program that is started. */
import { existsSync, statSync } from 'node:fs';
import path from 'node:path';

export const HELP = `Millpond: npm start -- [flags]

  --page                 serve the page on this machine's own address, without a window
  --data DIR             keep the sessions in DIR
  --pads rig             the practice rig: a simulated car on four pads
  --pads bluetooth       pads over Bluetooth
  --pads recording FILE  play a recording of pads
  --port N               port of the page (1 to 65535; 0 takes any free one)
  --help                 this text
`;

const PADS = ['rig', 'bluetooth', 'recording'];

/**
 * @typedef {{
 *   help: boolean,
 *   page: boolean,
 *   data: string | null,
 *   pads: string | null,
 *   recording: string | null,
 *   port: number | null,
 * }} Flags Null is: not given. Paths are absolute.
 */

/** @param {string} error @returns {{ ok: false, error: string }} */
const wrong = (error) => ({ ok: false, error });

/** @param {string} file */
const isFolder = (file) => statSync(file, { throwIfNoEntry: false })?.isDirectory() === true;

/** @param {string} file */
const isFile = (file) => statSync(file, { throwIfNoEntry: false })?.isFile() === true;

/**
 * @param {readonly string[]} args What stands after the script's name.
 * @param {string} from The folder that relative paths start from.
 * @returns {{ ok: true, flags: Flags } | { ok: false, error: string }} The error is one line.
 */
export const readFlags = (args, from) => {
  /** @type {Flags} */
  const flags = { help: false, page: false, data: null, pads: null, recording: null, port: null };
  const given = new Set();
  /** @type {string[]} */
  const rest = [];
  for (const arg of args) {
    const equals = arg.startsWith('--') ? arg.indexOf('=') : -1;
    if (equals > 0) rest.push(arg.slice(0, equals), arg.slice(equals + 1));
    else rest.push(arg);
  }
  const value = () => {
    const next = rest[0];
    return next === undefined || next === '' || next.startsWith('--') ? null : rest.shift();
  };
  for (let flag = rest.shift(); flag !== undefined; flag = rest.shift()) {
    if (given.has(flag)) return wrong(`${flag} is given twice.`);
    given.add(flag);
    if (flag === '--help' || flag === '-h') flags.help = true;
    else if (flag === '--page') flags.page = true;
    else if (flag === '--data') {
      const folder = value();
      if (!folder) return wrong('--data needs a folder: --data DIR');
      const data = path.resolve(from, folder);
      if (existsSync(data) && !isFolder(data)) return wrong(`--data: ${data} is not a folder.`);
      flags.data = data;
    } else if (flag === '--port') {
      const text = value();
      if (!text || !/^\d{1,5}$/.test(text) || Number(text) > 65535)
        return wrong('--port needs a whole number from 0 to 65535: --port N');
      flags.port = Number(text);
    } else if (flag === '--pads') {
      const pads = value();
      if (!pads || !PADS.includes(pads))
        return wrong('--pads is one of: rig, bluetooth, recording FILE');
      flags.pads = pads;
      if (pads !== 'recording') continue;
      const file = value();
      if (!file) return wrong('--pads recording needs a file: --pads recording FILE');
      const recording = path.resolve(from, file);
      if (!isFile(recording)) return wrong(`--pads recording: there is no file ${recording}`);
      flags.recording = recording;
    } else return wrong(`${flag} is not a flag of npm start; npm start -- --help lists them.`);
  }
  return { ok: true, flags };
};

/**
 * npm takes flags that stand before its `--` for its own. `--page` can be told from what it leaves
 * behind; a flag with a value cannot be put together again, and is refused rather than lost.
 *
 * @param {readonly string[]} args
 * @param {Readonly<Record<string, string | undefined>>} environment
 * @returns {{ ok: true, args: readonly string[] } | { ok: false, error: string }}
 */
export const withoutNpm = (args, environment) => {
  if (environment['npm_lifecycle_event'] !== 'start') return { ok: true, args };
  for (const name of ['data', 'pads', 'port'])
    if (environment[`npm_config_${name}`] !== undefined)
      return wrong(
        `npm kept --${name} for itself: put -- before the flags, as in npm start -- --${name} …`,
      );
  const page = environment['npm_config_page'] === 'true' && !args.includes('--page');
  return { ok: true, args: page ? ['--page', ...args] : args };
};

/**
 * The flags as the hosts take them.
 *
 * @param {Flags} flags
 * @returns {string[]}
 */
export const writeFlags = (flags) => [
  ...(flags.page ? ['--page'] : []),
  ...(flags.data === null ? [] : ['--data', flags.data]),
  ...(flags.pads === null ? [] : ['--pads', flags.pads]),
  ...(flags.recording === null ? [] : [flags.recording]),
  ...(flags.port === null ? [] : ['--port', String(flags.port)]),
];
