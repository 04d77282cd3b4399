import { mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { crashFile, crashFilesToRemove, crashText } from '../../electron/crashReport.ts';
import { createCrashKeeper } from '../../electron/keepCrashes.ts';
import { temporaryFolder } from '../support/temporaryFolder.ts';

test('file names sort by time and hold no path', () => {
  expect(crashFile('bench', 1_795_000_000_000)).toBe('crash-001795000000000-bench.txt');
  expect(crashFile('../x y', 5)).toBe('crash-000000000000005-xy.txt');
  expect(crashFile('', 5)).toBe('crash-000000000000005-unknown.txt');
  expect(crashFile('a', 999) < crashFile('a', 1000)).toBe(true);
});

test('the text, whole', () => {
  const crash = { what: 'page', how: 'oom', at: 'then', version: '1', platform: 'linux x64' };
  expect(crashText({ ...crash, lines: ['one', 'two'] })).toBe(
    'Millpond 1 on linux x64\nthen: page ended\n\noom\n\nThe last lines of the log:\none\ntwo\n',
  );
  expect(crashText({ ...crash, lines: [] })).toContain('(none)');
});

test('the newest twenty stay, and what is not a report', () => {
  const names = Array.from({ length: 23 }, (_, at) => crashFile('bench', at));
  const removed = crashFilesToRemove([...names.toReversed(), 'notes.txt', 'crash-1.txt']);
  expect(removed).toEqual(names.slice(0, 3));
  expect(crashFilesToRemove(names.slice(3))).toEqual([]);
});

test('reports are written for their owner only, with the last lines; old ones go', () => {
  const folder = path.join(temporaryFolder(), 'crash-reports');
  mkdirSync(folder);
  for (let at = 0; at < 25; at += 1) writeFileSync(path.join(folder, crashFile('old', at)), '');
  const said: string[] = [];
  const keeper = createCrashKeeper({ folder, version: '1', log: (line) => said.push(line) });
  for (let line = 1; line <= 201; line += 1) keeper.heard(`line ${line}`);
  keeper.keep('bench', 'killed');
  const files = readdirSync(folder).toSorted();
  expect(files).toHaveLength(20);
  const newest = path.join(folder, files.at(-1) ?? '');
  const text = readFileSync(newest, 'utf8');
  expect(text).toContain('bench ended\n\nkilled');
  expect(text).not.toContain('line 1\n');
  expect(text).toContain('line 2\n');
  expect(text).toContain('line 201\n');
  if (process.platform !== 'win32') expect(statSync(newest).mode & 0o077).toBe(0);
  expect(said).toEqual([]);
});

test('a folder that cannot be made is said, and nothing is thrown', () => {
  const folder = path.join(temporaryFolder({ taken: '' }), 'taken', 'crash-reports');
  const said: string[] = [];
  createCrashKeeper({ folder, version: '1', log: (line) => said.push(line) }).keep('main', 'x');
  expect(said).toEqual([expect.stringMatching(/^no crash report could be kept: /)]);
});
