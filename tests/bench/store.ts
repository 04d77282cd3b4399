/**
 * What the store costs: `node tests/bench/store.ts [folder]`. Prints a table; the goals are those of
 * the project. NORMAL and FULL are interleaved in short blocks (ABBA), so a slow disk hits both.
 */
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { cpus, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import type { RawChunk } from '../../core/bench/storePort.ts';
import { second } from '../../core/units.ts';
import type { Database } from '../../drivers/store/database.ts';
import { connect } from '../../drivers/store/open.ts';
import { openFile } from '../../drivers/store/openFile.ts';
import { createRecorder } from '../../drivers/store/recorder.ts';
import { RECORDER_FILE, type StoreFile } from '../../drivers/store/storeFiles.ts';

const RATE = 80;
const PADS = ['pad-LF', 'pad-RF', 'pad-LR', 'pad-RR'];
/** Two hours each, so that the second is written while the first falls out. */
const BLOCKS = 20;
const FLUSHES = 360;
const START = 1_700_000_000_000;

const chunksOf = (atSecond: number): RawChunk[] =>
  PADS.map((padSerial, pad) => ({
    padSerial,
    wallAt: START + 1000 * atSecond,
    from: second(atSecond),
    t: Float32Array.from({ length: RATE }, (_, i) => i / RATE),
    counts: Int32Array.from({ length: RATE }, (_, i) => 1_000_000 * (pad + 1) + ((i * 7919) % 997)),
    gaps: [],
  }));

const quantile = (values: readonly number[], q: number): number => {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))] ?? NaN;
};

const milliseconds = (work: () => unknown): number => {
  const begun = performance.now();
  work();
  return performance.now() - begun;
};

const folder = mkdtempSync(join(process.argv[2] ?? tmpdir(), 'millpond-bench-'));

const begin = (synchronous: StoreFile['synchronous']) => {
  const path = join(folder, `${synchronous}.db`);
  const file: StoreFile = { ...RECORDER_FILE, synchronous };
  const db: Database = openFile(path, file, { absent: true, connect });
  return { path, db, recorder: createRecorder(db), flushes: [] as number[], at: 0 };
};

const normal = begin('NORMAL');
const full = begin('FULL');
for (let block = 0; block < BLOCKS; block += 1) {
  for (const run of block % 2 === 0 ? [normal, full] : [full, normal]) {
    for (let i = 0; i < FLUSHES; i += 1, run.at += 1) {
      const chunks = chunksOf(run.at);
      run.flushes.push(milliseconds(() => run.recorder.record(chunks)));
    }
  }
}

const reads: number[] = [];
for (let i = 0; i < 200; i += 1) {
  const fromWall = START + 1000 * (normal.at - 3600 + ((i * 617) % 3540));
  const toWall = fromWall + 59_999;
  let samples = 0;
  reads.push(
    milliseconds(() => {
      for (const padSerial of PADS)
        for (const chunk of normal.recorder.read({ padSerial, fromWall, toWall }))
          samples += chunk.counts.length;
    }),
  );
  if (samples !== 60 * RATE * PADS.length) throw new Error(`read ${samples} samples`);
}

normal.db.pragma('wal_checkpoint(TRUNCATE)', { simple: true });
const bytes = statSync(normal.path).size / (3600 * RATE * PADS.length);

const row = (what: string, found: string, goal: string): void =>
  console.log(`${what.padEnd(50)}${found.padEnd(42)}${goal}`);
const flushRow = (name: string, flushes: readonly number[], goal: string): void => {
  const [p50, p99, most] = [quantile(flushes, 0.5), quantile(flushes, 0.99), Math.max(...flushes)];
  row(
    `flush 1 s × 4 pads at ${RATE} Hz, ${name}`,
    `p50 ${p50.toFixed(2)}  p99 ${p99.toFixed(2)}  most ${most.toFixed(1)} ms`,
    goal,
  );
};
console.log(`${cpus().length} × ${cpus()[0]?.model ?? 'cpu'}, Node ${process.version}, ${folder}`);
// Above one per processor, others took part in the figures, in p99 and "most" above all.
console.log(`load of the last minute ${loadavg()[0]?.toFixed(1)}`);
row('what', 'found', 'goal');
flushRow('NORMAL (the recorder)', normal.flushes, 'p99 ≤ 2 ms');
flushRow('FULL (for comparison)', full.flushes, '');
row('bytes per sample on the disk', bytes.toFixed(2), '≤ 10');
row(
  'read 60 s × 4 pads',
  `p50 ${quantile(reads, 0.5).toFixed(2)}  p95 ${quantile(reads, 0.95).toFixed(2)} ms`,
  'p95 ≤ 3 ms',
);

normal.db.close();
full.db.close();
rmSync(folder, { recursive: true });
