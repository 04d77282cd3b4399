import { renameSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { hashSources } from '../../build/scripts/buildIfChanged.ts';
import { temporaryFolder } from '../support/temporaryFolder.ts';

test('the hash follows contents and names of what is built, and nothing else', () => {
  const root = temporaryFolder({
    'core/a.ts': 'a',
    'renderer/parts/b.tsx': 'b',
    'tests/t.ts': 't',
  });
  const seen = [hashSources(root)];
  const isNew = (): boolean => {
    const hash = hashSources(root);
    const fresh = !seen.includes(hash);
    seen.push(hash);
    return fresh;
  };

  writeFileSync(path.join(root, 'tests/t.ts'), 'other');
  expect(isNew()).toBe(false);
  writeFileSync(path.join(root, 'renderer/parts/b.tsx'), 'other');
  expect(isNew()).toBe(true);
  renameSync(path.join(root, 'core/a.ts'), path.join(root, 'core/c.ts'));
  expect(isNew()).toBe(true);
  writeFileSync(path.join(root, 'package-lock.json'), '{}');
  expect(isNew()).toBe(true);
});
