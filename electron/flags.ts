import path from 'node:path';
import { PAD_SOURCES, type PadSource } from '../core/bench/ports.ts';

/** The flags of the command line, as a pure parser: nothing is read but what is handed in. */

export interface Flags {
  /** The local page instead of the desktop window. */
  readonly page: boolean;
  /** Where everything is kept, an absolute path. */
  readonly dataDir: string;
  /** The pads asked for; null leaves it to what was used last. */
  readonly pads: PadSource | null;
  /** The recording to play, an absolute path; null unless `pads` is a recording. */
  readonly recordingFile: string | null;
  /** The port of the local page; null takes the usual one, or a free one when that is busy. */
  readonly port: number | null;
  /** Seed of the practice rig; null draws one. */
  readonly seed: number | null;
}

export type ParsedFlags =
  | { readonly kind: 'flags'; readonly flags: Flags }
  | { readonly kind: 'help'; readonly text: string }
  | { readonly kind: 'wrong'; readonly why: string };

/** What the parser has to know of the computer. */
export interface Surroundings {
  readonly platform: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly home: string;
  readonly cwd: string;
}

export const USAGE = `Millpond: the bench beside the set-up pads.

  --page                  serve the local page instead of opening a window
  --data DIR              keep everything in DIR
  --pads rig              use the practice rig
  --pads bluetooth        use real pads
  --pads recording FILE   play a recording
  --port N                port of the local page
  --seed N                seed of the practice rig
  --help                  this text
`;

/**
 * The folder a system keeps an application's data in: XDG Base Directory Specification on Linux,
 * %APPDATA% on Windows, Application Support on macOS.
 */
export const defaultDataDir = ({ platform, env, home }: Omit<Surroundings, 'cwd'>): string => {
  if (platform === 'win32') {
    const { join, isAbsolute } = path.win32;
    const roaming = env['APPDATA'];
    return roaming !== undefined && isAbsolute(roaming)
      ? join(roaming, 'Millpond')
      : join(home, 'AppData', 'Roaming', 'Millpond');
  }
  const { join, isAbsolute } = path.posix;
  if (platform === 'darwin') return join(home, 'Library', 'Application Support', 'Millpond');
  // A relative XDG_DATA_HOME is invalid and has to be ignored (the specification's words).
  const xdg = env['XDG_DATA_HOME'];
  return xdg !== undefined && isAbsolute(xdg)
    ? join(xdg, 'millpond')
    : join(home, '.local', 'share', 'millpond');
};

const wholeNumber = (text: string, max: number): number | null => {
  if (!/^\d{1,10}$/.test(text)) return null;
  const value = Number(text);
  return value <= max ? value : null;
};

const isPadSource = (text: string): text is PadSource =>
  (PAD_SOURCES as readonly string[]).includes(text);

/** Reads the flags; what is wrong is said in one line, and nothing is guessed. */
export const parseFlags = (argv: readonly string[], around: Surroundings): ParsedFlags => {
  const { resolve } = around.platform === 'win32' ? path.win32 : path.posix;
  const seen = new Set<string>();
  const rest = [...argv];
  let flags: Flags = {
    page: false,
    dataDir: defaultDataDir(around),
    pads: null,
    recordingFile: null,
    port: null,
    seed: null,
  };

  const wrong = (why: string): ParsedFlags => ({ kind: 'wrong', why });
  const next = (): string | null => {
    const value = rest[0];
    if (value === undefined || value === '' || value.startsWith('--')) return null;
    rest.shift();
    return value;
  };

  for (let given = rest.shift(); given !== undefined; given = rest.shift()) {
    const equals = given.startsWith('--') ? given.indexOf('=') : -1;
    const flag = equals < 0 ? given : given.slice(0, equals);
    if (equals >= 0) rest.unshift(given.slice(equals + 1));
    if (seen.has(flag)) return wrong(`${flag} is given twice.`);
    seen.add(flag);

    if (flag === '--help') return { kind: 'help', text: USAGE };
    if (flag === '--page') {
      if (equals >= 0) return wrong('--page takes no value.');
      flags = { ...flags, page: true };
    } else if (flag === '--data') {
      const dir = next();
      if (dir === null) return wrong('--data needs a folder: --data DIR.');
      flags = { ...flags, dataDir: resolve(around.cwd, dir) };
    } else if (flag === '--pads') {
      const source = next();
      if (source === null || !isPadSource(source))
        return wrong('--pads needs one of: rig, bluetooth, recording FILE.');
      const file = source === 'recording' ? next() : null;
      if (source === 'recording' && file === null)
        return wrong('--pads recording needs the file to play: --pads recording FILE.');
      const recordingFile = file === null ? null : resolve(around.cwd, file);
      flags = { ...flags, pads: source, recordingFile };
    } else if (flag === '--port') {
      const port = wholeNumber(next() ?? '', 65535);
      if (port === null) return wrong('--port needs a number from 0 to 65535 (0 takes any free).');
      flags = { ...flags, port };
    } else if (flag === '--seed') {
      const seed = wholeNumber(next() ?? '', 2 ** 32 - 1);
      if (seed === null) return wrong('--seed needs a whole number from 0 to 4294967295.');
      flags = { ...flags, seed };
    } else {
      return wrong(`${given} is not known. Try --help.`);
    }
  }
  return { kind: 'flags', flags };
};

/** What the bench process is started with: it reads them with the same parser. */
export const benchFlags = (flags: Flags): readonly string[] => [
  '--data',
  flags.dataDir,
  ...(flags.pads === null ? [] : ['--pads', flags.pads]),
  ...(flags.recordingFile === null ? [] : [flags.recordingFile]),
  ...(flags.seed === null ? [] : ['--seed', String(flags.seed)]),
];
