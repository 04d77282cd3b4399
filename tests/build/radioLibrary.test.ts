import { mkdirSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { compileRadioLibrary } from '../../build/scripts/radioLibrary.ts';
import { temporaryFolder } from '../support/temporaryFolder.ts';

const attempt = (root: string, platform: string, works: boolean) => {
  const said: string[] = [];
  const asked: (readonly string[])[] = [];
  compileRadioLibrary(root, platform, {
    say: (line) => said.push(line),
    npm: (_folder, args) => {
      asked.push(args);
      return works;
    },
  });
  return { said, asked };
};

const REBUILD = ['rebuild', '@abandonware/noble', '--ignore-scripts=false'];

test('Linux compiles nothing; macOS and Windows do, once', () => {
  const root = temporaryFolder();
  expect(attempt(root, 'linux', true)).toEqual({ said: [], asked: [] });
  expect(attempt(root, 'win32', true).asked).toEqual([REBUILD]);
  mkdirSync(path.join(root, 'node_modules/@abandonware/noble/build/Release'), { recursive: true });
  expect(attempt(root, 'win32', true)).toEqual({ said: [], asked: [] });
});

test('a failure is said, and not tried again the same day', () => {
  const root = temporaryFolder();
  const first = attempt(root, 'darwin', false);
  expect(first.asked).toEqual([REBUILD]);
  expect(first.said.at(-1)).toMatch(/could not be compiled/);
  expect(attempt(root, 'darwin', false)).toEqual({ said: [], asked: [] });
});
