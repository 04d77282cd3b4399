import { spawnSync } from 'node:child_process';
import { symlinkSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { temporaryFolder } from '../support/temporaryFolder.ts';

const root = path.resolve(import.meta.dirname, '../..');

interface Run {
  readonly code: number | null;
  readonly output: string;
  /** The last lines, from the first skip on. */
  readonly closing: readonly string[];
}

/** Runs these files of tests with the product's own configuration. */
const run = (files: Readonly<Record<string, string>>, environment: Record<string, string>): Run => {
  const folder = temporaryFolder(files);
  symlinkSync(path.join(root, 'build'), path.join(folder, 'build'), 'dir');
  symlinkSync(path.join(root, 'tests/support'), path.join(folder, 'tests/support'), 'dir');
  symlinkSync(path.join(root, 'node_modules'), path.join(folder, 'node_modules'), 'dir');
  const { CI: _, ...rest } = process.env;
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [
      path.join(root, 'node_modules/vitest/vitest.mjs'),
      'run',
      `--root=${folder}`,
      `--config=${path.join(root, 'build/vitest.config.ts')}`,
    ],
    { cwd: folder, encoding: 'utf8', env: { ...rest, NO_COLOR: '1', ...environment } },
  );
  const lines = stdout.trimEnd().split('\n');
  const first = lines.findIndex((line) => line.startsWith('skipped'));
  return {
    code: status,
    output: `${stdout}${stderr}`,
    closing: first < 0 ? lines.slice(-1) : lines.slice(first),
  };
};

const IMPORT = "import { test, expect, afterAll } from 'vitest';\n";
const PASS = `${IMPORT}test('adds', () => expect(1 + 1).toBe(2));\n`;
const SKIP = `${IMPORT}test('draws', (context) => context.skip('no browser was found'));\n`;

describe('the last lines of a run', () => {
  test('every skip with its reason, then the counts alone on a line', () => {
    const { code, closing } = run(
      { 'tests/core/a.test.ts': PASS, 'tests/browser/b.test.ts': SKIP },
      {},
    );
    expect({ code, closing }).toEqual({
      code: 0,
      closing: [
        'skipped: tests/browser/b.test.ts > draws: no browser was found',
        '1 passed, 0 failed, 1 skipped',
      ],
    });
  });

  test('in CI a skipped browser test fails the run', () => {
    const { code, closing } = run(
      { 'tests/core/a.test.ts': PASS, 'tests/browser/b.test.ts': SKIP },
      { CI: 'true' },
    );
    expect({ code, closing }).toEqual({
      code: 1,
      closing: [
        'skipped, which fails in CI: tests/browser/b.test.ts > draws: no browser was found',
        '1 passed, 1 failed, 0 skipped',
      ],
    });
  });

  test('what fails outside a test counts', () => {
    const { code, closing } = run(
      {
        'tests/core/a.test.ts': PASS,
        'tests/core/b.test.ts': "import './gone.ts';\n",
        'tests/core/c.test.ts': `${IMPORT}test('is wrong', () => expect(1).toBe(2));\n`,
        'tests/core/d.test.ts': `${PASS}afterAll(() => { throw new Error('not put away'); });\n`,
      },
      {},
    );
    expect({ code, closing }).toEqual({ code: 1, closing: ['2 passed, 3 failed, 0 skipped'] });
  });

  test('a file that leaves something alive fails, by name', () => {
    const { code, closing, output } = run(
      {
        'tests/core/a.test.ts': `${IMPORT}import { createServer } from 'node:net';
test('leaves a timer and a server', async () => {
  setInterval(() => {}, 1000);
  const gone = setTimeout(() => {}, 1e6);
  clearTimeout(gone);
  await new Promise((settle) => createServer().listen(0, '127.0.0.1', settle));
});\n`,
      },
      {},
    );
    expect({ code, closing }).toEqual({ code: 1, closing: ['1 passed, 1 failed, 0 skipped'] });
    expect(output).toMatch(/left alive:\s+setInterval at .*tests\/core\/a\.test\.ts:\d+/);
    expect(output).toMatch(/server on \{"address":"127\.0\.0\.1"/);
    expect(output).not.toContain('setTimeout at');
  });
});
