import { createHash } from 'node:crypto';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';

/** A new folder that is gone when the test is. */
export const temporaryFolder = (): string => {
  const dir = mkdtempSync(join(tmpdir(), 'millpond-store-'));
  onTestFinished(() => rmSync(dir, { recursive: true, force: true }));
  return dir;
};

/**
 * The databases of a folder and their logs: name, length and SHA-256. Not the `-shm` files, which
 * hold nothing but an index of the log, and not an empty log, which any reader may leave behind.
 */
export const filesOf = (dir: string): Readonly<Record<string, string>> =>
  Object.fromEntries(
    readdirSync(dir)
      .map((name) => [name, readFileSync(join(dir, name))] as const)
      .filter(([name, bytes]) => !name.endsWith('-shm') && bytes.length > 0)
      .map(([name, bytes]) => [name, digest(bytes)]),
  );

/** Short enough to be shown when two differ. */
export const digest = (bytes: Uint8Array): string =>
  `${bytes.length} bytes ${createHash('sha256').update(bytes).digest('hex').slice(0, 16)}`;
