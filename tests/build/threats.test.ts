import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';

/** The page of threats in DEVELOPERS.md: every answer names a test that is there. */

const root = path.resolve(import.meta.dirname, '../..');
const page = readFileSync(path.join(root, 'DEVELOPERS.md'), 'utf8');
const begin = page.indexOf('## Threats and answers');
const section = page.slice(begin, page.indexOf('| runtime dependency', begin));
const rows = section
  .split('\n')
  .filter((line) => line.startsWith('| ') && !line.includes('| test'));

test('there are answers', () => {
  expect(rows.length).toBeGreaterThan(20);
});

test.each(rows)('%s', (row) => {
  const named = /\| `(?<file>[^`]+)` › (?<words>.+) \|$/u.exec(row)?.groups;
  expect(named, 'no test is named').toBeDefined();
  const file = readFileSync(path.join(root, named?.['file'] ?? ''), 'utf8');
  expect(file).toContain(named?.['words']);
});
