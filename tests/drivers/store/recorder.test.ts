import { statSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { RawChunk } from '../../../core/bench/storePort.ts';
import { second } from '../../../core/units.ts';
import { RECORDER_FILE } from '../../../drivers/store/storeFiles.ts';
import {
  openedStore,
  OUTING,
  prepare,
  sampleCapture,
  sampleChunks,
  sampleWindow,
  WALL,
} from './sampleRecords.ts';
import { temporaryFolder } from './temporaryFolder.ts';

const HOUR = 3600;
const labelsOf = (chunks: readonly RawChunk[]): number[] =>
  chunks.map(({ wallAt }) => (wallAt - WALL) / 1000);
const readAll = (store: ReturnType<typeof openedStore>) =>
  store.readRaw({ padSerial: 'pad-LF', fromWall: 0, toWall: 2 ** 53 - 1 });

test('chunks come back as they were, with their gaps, after a restart', () => {
  const dir = temporaryFolder();
  const before = openedStore(dir);
  const gaps = [
    { from: second(5001), to: second(5001.25), missing: 19, reason: 'lost' },
    { from: second(5001.5), to: second(5001.75), missing: null, reason: 'link' },
  ] as const;
  const written = [0, 1, 2].map((at) =>
    sampleChunks(at).map((chunk) => (at === 1 ? { ...chunk, gaps } : chunk)),
  );
  const empty: RawChunk = {
    padSerial: 'pad-LF',
    wallAt: WALL + 3000,
    from: second(5003),
    t: new Float32Array(),
    counts: Int32Array.of(),
    gaps: [{ from: second(5003), to: second(5004), missing: null, reason: 'restarted' }],
  };
  const edges: RawChunk = {
    ...empty,
    padSerial: 'pad-edges',
    t: Float32Array.of(0, 0.5),
    counts: Int32Array.of(-(2 ** 31), 2 ** 31 - 1),
  };
  for (const chunks of [...written, [empty, edges], []])
    expect(before.record(chunks)).toEqual({ ok: true });
  before.close();

  const store = openedStore(dir);
  expect(readAll(store)).toEqual([...written.map((chunks) => chunks[0]), empty]);
  const all = { fromWall: 0, toWall: 2 ** 53 - 1 };
  expect(store.readRaw({ padSerial: 'pad-RR', ...all })).toEqual(written.map((each) => each[3]));
  expect(store.readRaw({ padSerial: 'pad-edges', ...all })).toEqual([edges]);
  expect(store.readRaw({ padSerial: 'unheard of', ...all })).toEqual([]);
  expect(store.faults).toEqual([]);
  store.close();
});

test('a range gives the chunks that have anything in it', () => {
  const store = openedStore(temporaryFolder());
  for (const at of [0, 1, 2, 3, 10]) store.record(sampleChunks(at));
  const asked = (from: number, to: number) =>
    labelsOf(store.readRaw({ padSerial: 'pad-RF', fromWall: WALL + from, toWall: WALL + to }));
  expect(asked(1500, 2500)).toEqual([1, 2]);
  expect(asked(1000, 1000)).toEqual([1]);
  expect(asked(4500, 9999)).toEqual([]);
  expect(asked(-500, 0)).toEqual([0]);
  store.close();
});

test('a chunk whose times and counts do not pair up is refused, and the whole write with it', () => {
  const store = openedStore(temporaryFolder());
  const [good, other] = sampleChunks(1) as [RawChunk, RawChunk];
  const bad = { ...other, t: other.t.slice(1) };
  expect(store.record([good, bad])).toMatchObject({
    ok: false,
    fault: { code: 'store-failed', subject: 'flight-recorder.db' },
  });
  expect(readAll(store)).toEqual([]);
  store.close();
});

test('three simulated hours: the last hour is there whole, and the file stops growing', () => {
  const dir = temporaryFolder();
  const store = openedStore(dir);
  const sizes: { file: number; log: number }[] = [];
  const sizeOf = (end: string): number => statSync(join(dir, RECORDER_FILE.name + end)).size;
  for (let at = 0; at < 3 * HOUR; at += 4) {
    store.record([0, 1, 2, 3].flatMap((after) => sampleChunks(at + after)));
    if ((at + 4) % (HOUR / 2) === 0) sizes.push({ file: sizeOf(''), log: sizeOf('-wal') });
  }
  // The chunk exactly an hour older than the newest is still kept.
  expect(labelsOf(readAll(store))).toEqual(
    Array.from({ length: HOUR + 1 }, (_, i) => 2 * HOUR - 1 + i),
  );
  // After an hour, and a log's worth of slack, no more growth; at 10 bytes a sample at most.
  const [, , atNinetyMinutes, ...later] = sizes;
  expect(later).toHaveLength(3);
  for (const { file } of later)
    expect(file).toBeLessThanOrEqual(1.01 * (atNinetyMinutes?.file ?? 0));
  expect(Math.max(...sizes.map(({ file }) => file)) / (4 * 80 * HOUR)).toBeLessThan(10);
  const { checkpointPages, pageSize } = RECORDER_FILE;
  for (const { log } of sizes) expect(log).toBeLessThan(1.1 * checkpointPages * pageSize);
  store.close();
}, 30_000);

test.each([
  ['back', -86_400],
  ['on', 86_400],
])('a wall clock set %s by a day makes what was there fall out, little by little', (_way, jump) => {
  const store = openedStore(temporaryFolder());
  for (let at = 0; at < 60; at += 1) store.record(sampleChunks(at, 4));
  store.record(sampleChunks(60 + jump, 4));
  expect(labelsOf(readAll(store)).length).toBeGreaterThan(50);
  for (let at = 61; at < 120; at += 1) store.record(sampleChunks(at + jump, 4));
  expect(labelsOf(readAll(store))).toEqual(Array.from({ length: 60 }, (_, i) => 60 + jump + i));
  store.close();
});

test('what a capture used outlives the hour, because it is pinned in the records', () => {
  const store = openedStore(temporaryFolder());
  prepare(store);
  store.record(sampleChunks(0));
  store.saveCapture(sampleCapture(1), sampleWindow(1));
  for (let at = 2 * HOUR; at < 2 * HOUR + 4; at += 1) store.record(sampleChunks(at));
  expect(labelsOf(readAll(store))).toEqual([7200, 7201, 7202, 7203]);
  expect(store.captures(OUTING.id)).toHaveLength(1);
  expect(store.openCapture(sampleCapture(1).id)?.window).toEqual(sampleWindow(1));
  store.close();
});
