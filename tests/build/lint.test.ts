import { execFileSync } from 'node:child_process';
import { readFileSync, symlinkSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { tools } from '../../build/scripts/tools.ts';
import { temporaryFolder } from '../support/temporaryFolder.ts';

const root = path.resolve(import.meta.dirname, '../..');

/** The rules that one file breaks, as the linter names them. */
const brokenBy = (file: string, source: string): readonly string[] => {
  const folder = temporaryFolder({
    'build/oxlint.json': readFileSync(path.join(root, 'build/oxlint.json'), 'utf8'),
    'tsconfig.json': '{"compilerOptions":{"strict":true,"module":"ESNext","target":"ES2024"}}',
    [file]: `${source}\n`,
  });
  symlinkSync(path.join(root, 'node_modules'), path.join(folder, 'node_modules'), 'dir');
  const [program = '', ...flags] = tools.lint.filter((flag) => !/^[a-z]+$/.test(flag));
  const args = [path.join(root, program), ...flags, '--format=json', file.split('/')[0] ?? ''];
  const run = (): string => {
    try {
      return execFileSync(process.execPath, args, { cwd: folder, encoding: 'utf8' });
    } catch (error) {
      return (error as { stdout: string }).stdout;
    }
  };
  const { diagnostics, number_of_files: files } = JSON.parse(run()) as {
    diagnostics: readonly { code: string }[];
    number_of_files: number;
  };
  expect(files).toBe(1);
  return diagnostics.map(({ code }) => code).toSorted();
};

const NOW = 'export const now = (): number => Date.now();';
const DIE = 'export const die = (): number => Math.random();';
const SAY = "export const say = (): void => console.log('x');";
const FLOAT =
  'declare const go: () => Promise<void>;\nexport const run = (): void => {\n  go();\n};';
const ANY = 'export const first = (values: any): unknown => values;';

describe('planted violations are caught', () => {
  test.each([
    ['core/x.ts', NOW, ['eslint(no-restricted-globals)']],
    ['core/x.ts', DIE, ['eslint(no-restricted-properties)']],
    ['core/x.ts', SAY, ['eslint(no-console)']],
    ['core/x.ts', FLOAT, ['typescript(no-floating-promises)']],
    ['core/x.ts', ANY, ['typescript(no-explicit-any)']],
    ['core/x.ts', '// TODO: later\nexport const x = 1;', ['eslint(no-warning-comments)']],
    ['drivers/pads/x.ts', NOW, ['eslint(no-restricted-globals)']],
    ['drivers/pads/x.ts', SAY, ['eslint(no-console)']],
    ['renderer/x.ts', SAY, ['eslint(no-console)']],
    ['electron/x.ts', NOW, ['eslint(no-restricted-globals)']],
    ['tests/core/x.test.ts', FLOAT, ['typescript(no-floating-promises)']],
  ])('%s: %s', (file, source, rules) => {
    expect(brokenBy(file, source)).toEqual(rules);
  });
});

test.each([
  ['electron/clock.ts', NOW],
  ['tests/core/x.ts', NOW],
  ['core/x.ts', 'export const half = (value: number): number => value / 2;'],
])('%s may: %s', (file, source) => {
  expect(brokenBy(file, source)).toEqual([]);
});
