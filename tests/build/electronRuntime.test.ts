import { existsSync, rmSync, utimesSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import {
  electronProgram,
  findElectron,
  whyNoDisplay,
  type Machine,
} from '../../build/scripts/electronRuntime.ts';
import { temporaryFolder } from '../support/temporaryFolder.ts';

const screen: Machine = { platform: 'linux', environment: { DISPLAY: ':0' }, userId: 1000 };

const quiet = { say: () => {} };

describe('whyNoDisplay', () => {
  test.each<[string, Partial<Machine>, string | null]>([
    ['X', {}, null],
    ['Wayland', { environment: { WAYLAND_DISPLAY: 'wayland-0' } }, null],
    ['none', { environment: {} }, 'there is no display'],
    ['root', { userId: 0 }, 'it does not open for root'],
    ['a Mac', { platform: 'darwin', environment: {} }, null],
  ])('%s', (_, change, why) => {
    expect(whyNoDisplay({ ...screen, ...change })).toBe(why);
  });
});

const RUNTIME = {
  'node_modules/electron/path.txt': 'electron',
  'node_modules/electron/dist/electron': '',
};

test('the runtime is found where its package names it', () => {
  const root = temporaryFolder(RUNTIME);
  expect(electronProgram(root, {})).toBe(path.join(root, 'node_modules/electron/dist/electron'));
  expect(electronProgram(temporaryFolder(), {})).toBe(null);
});

describe('findElectron', () => {
  const withInstaller = (script: string): string =>
    temporaryFolder({ 'node_modules/electron/install.js': script });
  const tried = (root: string): boolean => existsSync(path.join(root, 'tried'));
  const FAILS = "require('fs').writeFileSync('tried', ''); process.exit(1);";

  test('fetches nothing where there is no display', async () => {
    const root = withInstaller(FAILS);
    expect(await findElectron(root, { ...screen, environment: {} }, quiet)).toEqual({
      why: 'there is no display',
    });
    expect(tried(root)).toBe(false);
  });

  test('fetches what is missing', async () => {
    const root = withInstaller(
      "const fs = require('fs'); fs.mkdirSync('node_modules/electron/dist');" +
        "fs.writeFileSync('node_modules/electron/dist/electron', '');" +
        "fs.writeFileSync('node_modules/electron/path.txt', 'electron');",
    );
    expect(await findElectron(root, screen, quiet)).toEqual({
      program: path.join(root, 'node_modules/electron/dist/electron'),
    });
  });

  test('a failure is remembered for a day', async () => {
    const root = withInstaller(FAILS);
    const first = { why: "Electron's runtime cannot be fetched here" };
    expect(await findElectron(root, screen, quiet)).toEqual(first);
    rmSync(path.join(root, 'tried'));
    const again = await findElectron(root, screen, quiet);
    expect('why' in again && again.why).toContain('in the last 24 hours');
    expect(tried(root)).toBe(false);

    const remembered = path.join(root, 'node_modules/.cache/millpond/electron-not-fetched');
    const dayAgo = Date.now() / 1000 - 24 * 3600 - 1;
    utimesSync(remembered, dayAgo, dayAgo);
    expect(await findElectron(root, screen, quiet)).toEqual(first);
    expect(tried(root)).toBe(true);
  });

  test('a slow fetch does not hold up the start', async () => {
    // Ends by itself after the test: the fetch is left to run beside the page.
    const root = withInstaller('setTimeout(() => {}, 1500);');
    expect(await findElectron(root, screen, { ...quiet, limitMs: 50 })).toEqual({
      why: "Electron's runtime is still being fetched",
    });
  });
});
