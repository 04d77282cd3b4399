import { copyFileSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  openedStore,
  prepare,
  sampleCapture,
  sampleChunks,
  sampleWindow,
  seeded,
} from './sampleRecords.ts';
import { temporaryFolder } from './temporaryFolder.ts';

export const CAPTURES = [1, 2, 3, 4, 5];
/** WALL as the name of a file has it: 2023-11-14T22:13:20Z. */
export const STAMP = '20231114T221320Z';

/** A folder with captures in it, closed. */
export const filled = (): string => {
  const dir = temporaryFolder();
  const store = openedStore(dir);
  prepare(store);
  for (const n of CAPTURES) store.saveCapture(sampleCapture(n), sampleWindow(n));
  for (const at of [0, 1, 2]) store.record(sampleChunks(at));
  store.close();
  return dir;
};

/** The same, as a power cut would leave it: the newest rows only in the write-ahead logs. */
export const filledAndCut = (): string => {
  const dir = temporaryFolder();
  const cut = temporaryFolder();
  const store = openedStore(dir);
  prepare(store);
  for (const n of CAPTURES) store.saveCapture(sampleCapture(n), sampleWindow(n));
  for (const name of readdirSync(dir))
    if (!name.endsWith('-shm')) copyFileSync(join(dir, name), join(cut, name));
  store.close();
  return cut;
};

export function garbage(seed: number, length: number): Buffer {
  const random = seeded(seed);
  return Buffer.from(Array.from({ length }, () => Math.floor(random() * 256)));
}

export function overwrite(path: string, at: number, bytes: Buffer): void {
  const all = readFileSync(path);
  bytes.copy(all, at);
  writeFileSync(path, all);
}
