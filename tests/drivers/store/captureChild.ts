/**
 * Saves captures as fast as it can while the flight recorder runs, and says each one's number once
 * the store has acknowledged it: `node captureChild.ts <folder> <first number> [--hold]`. It never
 * ends by itself: it is there to be killed. With `--hold` it only keeps the folder.
 */
import { writeSync } from 'node:fs';
import {
  openedStore,
  prepare,
  sampleCapture,
  sampleChunks,
  sampleWindow,
} from './sampleRecords.ts';

const [dir, first, hold] = process.argv.slice(2);
if (dir === undefined || first === undefined) throw new Error('which folder, from which number?');

const begin = Number(first);
const store = openedStore(dir, begin);
if (store.load().outing === null) prepare(store);
// Writing straight to the pipe: what was said is with the reader, even if the next thing is the end.
const say = (line: string): void => void writeSync(1, `${line}\n`);

say('open');
if (hold === '--hold') setInterval(() => undefined, 60_000);
else {
  for (let n = begin; ; n += 1) {
    const recorded = store.record(sampleChunks(n));
    const saved = store.saveCapture(sampleCapture(n), sampleWindow(n));
    if (!recorded.ok || !saved.ok) throw new Error(JSON.stringify([recorded, saved]));
    say(String(n));
  }
}
