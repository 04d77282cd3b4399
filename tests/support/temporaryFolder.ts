import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { onTestFinished } from 'vitest';

/** A folder of the test that asks, with these files in it (contents by path); gone after the test. */
export const temporaryFolder = (files: Readonly<Record<string, string>> = {}): string => {
  const folder = realpathSync(mkdtempSync(path.join(tmpdir(), 'millpond-')));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  for (const [name, content] of Object.entries(files)) {
    const file = path.join(folder, name);
    mkdirSync(path.dirname(file), { recursive: true });
    writeFileSync(file, content);
  }
  return folder;
};
