/**
 * What copies cost while captures go on: `node tests/bench/backup.ts [folder for copies]`. Prints a table
 * for a season of 2,000 captures; the bench's own thread must go on, whatever the folder is.
 */
import { mkdirSync, mkdtempSync, rmSync, statSync } from 'node:fs';
import { cpus, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { createBackups } from '../../drivers/store/backups.ts';
import type { Store } from '../../drivers/store/store.ts';
import {
  idMaker,
  openedStore,
  prepare,
  sampleCapture,
  sampleWindow,
  WALL,
} from '../drivers/store/sampleRecords.ts';

const CAPTURES = 2000;
/** Captures during a copy, this often, ms: a crew makes one a minute. */
const EVERY = 100;
/** Ids of the other computer's captures are apart from ours. */
const OTHERS = 100_000;

const folder = mkdtempSync(join(tmpdir(), 'millpond-bench-'));
const copiesIn = mkdtempSync(join(process.argv[2] ?? tmpdir(), 'millpond-copies-'));

const season = (name: string, space: number, from: number): Store => {
  mkdirSync(join(folder, name));
  const store = openedStore(join(folder, name), space);
  prepare(store);
  for (let n = from + 1; n <= from + CAPTURES; n += 1)
    store.saveCapture(sampleCapture(n), sampleWindow(n));
  return store;
};
const store = season('ours', 1, 0);
season('theirs', 2, OTHERS).close();

let wall = WALL;
const copies = createBackups({
  dataFolder: join(folder, 'ours'),
  records: store.inPlace,
  machine: 'bench',
  wallClock: () => (wall += 1000),
  newId: idMaker(9),
  startAgain: () => undefined,
});

const row = (what: string, found: string): void => console.log(`${what.padEnd(44)}${found}`);
console.log(
  `${cpus().length} × ${cpus()[0]?.model ?? 'cpu'}, Node ${process.version}, ${copiesIn}`,
);
console.log(`load of the last minute ${loadavg()[0]?.toFixed(1)}`);
row(
  `${CAPTURES} captures`,
  `${(statSync(join(folder, 'ours/millpond.db')).size / 1e6).toFixed(1)} MB`,
);

const timed = async (
  what: string,
  work: () => Promise<{ readonly ok: boolean }>,
): Promise<void> => {
  const begun = performance.now();
  const { ok } = await work();
  row(what, ok ? `${((performance.now() - begun) / 1000).toFixed(2)} s` : 'refused');
};

const delay = monitorEventLoopDelay({ resolution: 1 });
const captures: number[] = [];
const capture = (): void => {
  const n = CAPTURES + captures.length + 1;
  const [made, raw] = [sampleCapture(n), sampleWindow(n)];
  const begun = performance.now();
  store.saveCapture(made, raw);
  captures.push(performance.now() - begun);
};
delay.enable();
const capturing = setInterval(capture, EVERY);
await timed('a copy, checked and compared', () => copies.make(copiesIn));
clearInterval(capturing);
delay.disable();
row(
  '  captures meanwhile',
  `${captures.length}, ${Math.max(0, ...captures).toFixed(1)} ms at most; thread held up ${(delay.max / 1e6).toFixed(1)} ms at most`,
);
await timed('once more', () => copies.make(copiesIn));
await timed('nothing new: read through again', () => copies.make(copiesIn));
await timed('the list', () => copies.list(copiesIn));
await timed(`joined with another ${CAPTURES} captures`, () =>
  copies.join({ folder: join(folder, 'theirs'), name: 'millpond.db' }),
);
store.close();
for (const each of [folder, copiesIn]) rmSync(each, { recursive: true });
