import { describe, expect, test } from 'vitest';
import {
  benchFlags,
  defaultDataDir,
  parseFlags,
  USAGE,
  type Flags,
  type Surroundings,
} from '../../electron/flags.ts';

const around: Surroundings = {
  platform: 'linux',
  env: {},
  home: '/home/crew',
  cwd: '/home/crew/garage',
};

const none: Flags = {
  page: false,
  dataDir: '/home/crew/.local/share/millpond',
  pads: null,
  recordingFile: null,
  port: null,
  seed: null,
};

describe('parseFlags', () => {
  test.each<[string, Partial<Flags>]>([
    ['', {}],
    ['--page', { page: true }],
    ['--data /mnt/heron', { dataDir: '/mnt/heron' }],
    ['--data heron', { dataDir: '/home/crew/garage/heron' }],
    ['--data=../heron', { dataDir: '/home/crew/heron' }],
    ['--pads rig', { pads: 'rig' }],
    ['--pads bluetooth', { pads: 'bluetooth' }],
    ['--pads recording a.mpr', { pads: 'recording', recordingFile: '/home/crew/garage/a.mpr' }],
    ['--pads=recording a.mpr', { pads: 'recording', recordingFile: '/home/crew/garage/a.mpr' }],
    ['--port 0', { port: 0 }],
    ['--port=65535', { port: 65535 }],
    ['--seed 7', { seed: 7 }],
    [
      '--port 8080 --pads rig --page --data d',
      { port: 8080, pads: 'rig', page: true, dataDir: '/home/crew/garage/d' },
    ],
  ])('understands “%s”', (line, flags) => {
    const argv = line === '' ? [] : line.split(' ');
    expect(parseFlags(argv, around)).toEqual({ kind: 'flags', flags: { ...none, ...flags } });
  });

  test.each([
    ['--data', '--data needs a folder: --data DIR.'],
    ['--data --page', '--data needs a folder: --data DIR.'],
    ['--data=', '--data needs a folder: --data DIR.'],
    ['--pads', '--pads needs one of: rig, bluetooth, recording FILE.'],
    ['--pads radio', '--pads needs one of: rig, bluetooth, recording FILE.'],
    ['--pads recording', '--pads recording needs the file to play: --pads recording FILE.'],
    ['--pads recording --page', '--pads recording needs the file to play: --pads recording FILE.'],
    ['--port', '--port needs a number from 0 to 65535 (0 takes any free).'],
    ['--port 65536', '--port needs a number from 0 to 65535 (0 takes any free).'],
    ['--port -1', '--port needs a number from 0 to 65535 (0 takes any free).'],
    ['--port 80.5', '--port needs a number from 0 to 65535 (0 takes any free).'],
    ['--port 0x50', '--port needs a number from 0 to 65535 (0 takes any free).'],
    ['--seed x', '--seed needs a whole number from 0 to 4294967295.'],
    ['--page=yes', '--page takes no value.'],
    ['--page --page', '--page is given twice.'],
    ['--wheels', '--wheels is not known. Try --help.'],
    ['rig', 'rig is not known. Try --help.'],
    ['--pads rig extra', 'extra is not known. Try --help.'],
  ])('refuses “%s” in one line', (line, why) => {
    expect(parseFlags(line.split(' '), around)).toEqual({ kind: 'wrong', why });
  });

  test('helps', () => {
    expect(parseFlags(['--help'], around)).toEqual({ kind: 'help', text: USAGE });
  });

  test('resolves as Windows does on Windows', () => {
    const windows: Surroundings = {
      platform: 'win32',
      env: { APPDATA: 'C:\\Users\\crew\\AppData\\Roaming' },
      home: 'C:\\Users\\crew',
      cwd: 'D:\\garage',
    };
    expect(parseFlags(['--data', 'heron'], windows)).toMatchObject({
      flags: { dataDir: 'D:\\garage\\heron' },
    });
  });
});

test.each<[string, Record<string, string>, string, string]>([
  ['linux', {}, '/home/crew', '/home/crew/.local/share/millpond'],
  ['linux', { XDG_DATA_HOME: '/data' }, '/home/crew', '/data/millpond'],
  ['linux', { XDG_DATA_HOME: 'data' }, '/home/crew', '/home/crew/.local/share/millpond'],
  ['linux', { XDG_DATA_HOME: '' }, '/home/crew', '/home/crew/.local/share/millpond'],
  ['darwin', {}, '/Users/crew', '/Users/crew/Library/Application Support/Millpond'],
  ['win32', { APPDATA: 'C:\\U\\R' }, 'C:\\U', 'C:\\U\\R\\Millpond'],
  ['win32', {}, 'C:\\U', 'C:\\U\\AppData\\Roaming\\Millpond'],
])('data folder on %s with %o', (platform, env, home, dir) => {
  expect(defaultDataDir({ platform, env, home })).toBe(dir);
});

test.each([
  '--data /d',
  '--data /d --pads rig --seed 3',
  '--data /d --pads bluetooth',
  '--data /d --pads recording /r.mpr',
])('the bench process reads back what the host read from “%s”', (line) => {
  const host = parseFlags(line.split(' '), around);
  if (host.kind !== 'flags') throw new Error('not flags');
  expect(parseFlags(benchFlags(host.flags), around)).toEqual(host);
});
