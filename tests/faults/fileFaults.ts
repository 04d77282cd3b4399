import { mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import type { FaultCode } from '../../core/faults.ts';
import { openStore } from '../../drivers/store/open.ts';
import type { Store } from '../../drivers/store/store.ts';
import { RECORDS_FILE } from '../../drivers/store/storeFiles.ts';
import {
  openedStore,
  openingOf,
  OUTING,
  prepare,
  sampleCalibration,
  sampleCapture,
  sampleKept,
  sampleWindow,
  seeded,
} from '../drivers/store/sampleRecords.ts';
import type { Fault, Observed } from './fault.ts';
import { faultWords } from './seenWords.ts';

/** Faults of the database's file: what a bad disk does to its pages, and what a power cut leaves. */

const PAGE = RECORDS_FILE.pageSize;
/** https://www.sqlite.org/fileformat.html section 4.1: a header, then frames of a header and a page. */
const LOG_HEADER = 32;
const LOG_FRAME = 24 + PAGE;
const SEED = 11;

type Found = 'whole' | 'set aside' | 'left out and said' | 'not opened' | 'silently wrong';

/** All that a start reads, and every capture with its window. */
const contentOf = (store: Store): string =>
  JSON.stringify([
    store.load(),
    [...store.load().zeros],
    [...store.load().assigned],
    store.captures(OUTING.id),
    store.captures(OUTING.id).map(({ id }) => store.openCapture(id)?.window),
    store.kept('mass check'),
    store.calibrationsOf('pad-LF'),
  ]);

const noise = (length: number, random: () => number): Buffer =>
  Buffer.from(Array.from({ length }, () => Math.floor(256 * random())));

/** One damage to one page. */
const DAMAGES: readonly (readonly [string, (page: Buffer, random: () => number) => void])[] = [
  ['overwritten with noise', (page, random) => void noise(page.length, random).copy(page)],
  [
    'one bit turned over',
    (page, random) => {
      const at = Math.floor(random() * page.length);
      page[at] = (page[at] ?? 0) ^ (1 << Math.floor(8 * random()));
    },
  ],
];

/** Bits turned over in each page, one file each; a quarter in the reduced run. */
const BITS = 8;

const damagedPages = async (dir: string, share: number, which: number): Promise<Observed> => {
  const [, damage] = DAMAGES[which] as (typeof DAMAGES)[number];
  const whole = join(dir, 'whole');
  const captures = [1, 2, 3];
  const store = openedStore(whole);
  prepare(store);
  for (const n of captures) store.saveCapture(sampleCapture(n), sampleWindow(n));
  for (const outcome of [
    store.keep(sampleKept(1)),
    store.saveCalibration(sampleCalibration(1)),
    store.assign('pad-LF', 'LF'),
  ])
    if (!outcome.ok) throw new Error(`${outcome.fault.detail}`);
  const content = contentOf(store);
  store.close();
  const file = readFileSync(join(whole, RECORDS_FILE.name));
  const pages = file.length / PAGE;
  const random = seeded(SEED);
  const seen = new Map<string, number>();
  const found = new Map<Found, number>();
  const wrong: string[] = [];
  let cases = 0;
  const look = (at: number): Found => {
    const spoiled = Buffer.from(file);
    damage(spoiled.subarray(at * PAGE, (at + 1) * PAGE), random);
    const there = join(dir, 'damaged');
    rmSync(there, { recursive: true, force: true });
    mkdirSync(there);
    writeFileSync(join(there, RECORDS_FILE.name), spoiled);
    const say = (codes: readonly FaultCode[]): void => {
      for (const code of new Set(codes)) seen.set(code, (seen.get(code) ?? 0) + 1);
    };
    const opened = openStore(openingOf(there, 3));
    if (!opened.ok) {
      say([opened.fault.code]);

      return 'not opened';
    }
    const now = contentOf(opened.store);
    const codes = opened.store.faults.map(({ code }) => code);
    say(codes);
    const aside = opened.store.faults.find(({ code }) => code === 'store-damaged');
    opened.store.close();
    if (aside) {
      const kept = readFileSync(aside.detail?.split('kept as ')[1] ?? '');
      return kept.equals(spoiled) ? 'set aside' : 'silently wrong';
    }
    if (now === content) return codes.length === 0 ? 'whole' : 'left out and said';
    if (codes.length > 0) return 'left out and said';
    wrong.push(`page ${at + 1}`);
    return 'silently wrong';
  };
  const times = which === 0 ? 1 : Math.max(1, Math.round(BITS * share));
  for (let at = 0; at < pages; at += 1)
    for (let n = 0; n < times; n += 1) {
      cases += 1;
      const result = look(at);
      found.set(result, (found.get(result) ?? 0) + 1);
    }
  const count = (what: Found): number => found.get(what) ?? 0;
  return {
    seen: [...seen].map(([code, n]) => `${n} times: ${faultWords(code as FaultCode)}`),
    kept: `${cases} files, ${pages} pages: ${[...found].map(([what, n]) => `${n} ${what}`).join(', ')}${wrong.length > 0 ? ` (${wrong.join(', ')})` : ''}`,
    others: null,
    unnamed: [],
    acknowledged: cases,
    lost: count('silently wrong'),
    frames: 0,
    staleAsLive: 0,
  };
};

/** Captures that are there whole, with their window. */
const capturesHeld = (store: Store, captures: readonly number[]): readonly number[] =>
  captures.filter((n) => {
    const opened = store.openCapture(sampleCapture(n).id);
    return (
      opened !== null &&
      isDeepStrictEqual(opened.capture, sampleCapture(n)) &&
      JSON.stringify(opened.window) === JSON.stringify(sampleWindow(n))
    );
  });

/**
 * Every state of the disk that a power cut can leave of the log, from nothing to all: torn at each
 * frame's edge and within each frame, what follows missing or garbage. A capture is due when the log
 * that was synced before its acknowledgement is on the disk.
 */
const powerCut = async (dir: string, share: number): Promise<Observed> => {
  const whole = join(dir, 'whole');
  const captures = Array.from({ length: 8 }, (_, n) => n + 1);
  const store = openedStore(whole);
  prepare(store);
  const log = join(whole, `${RECORDS_FILE.name}-wal`);
  const syncedAt = captures.map((n) => {
    const saved = store.saveCapture(sampleCapture(n), sampleWindow(n));
    if (!saved.ok) throw new Error(saved.fault.detail ?? saved.fault.code);
    return statSync(log).size;
  });
  const file = readFileSync(join(whole, RECORDS_FILE.name));
  const frames = readFileSync(log);
  store.close();
  const edges = Array.from(
    { length: Math.floor((frames.length - LOG_HEADER) / LOG_FRAME) + 1 },
    (_, n) => LOG_HEADER + n * LOG_FRAME,
  );
  const cuts = [0, ...edges.flatMap((at) => [at, at + 12, at + LOG_FRAME / 2])].filter(
    (at, n) => at <= frames.length && n % Math.round(1 / share) === 0,
  );
  const seen = new Set<FaultCode>();
  let [acknowledged, lost, extra] = [0, 0, 0];
  for (const at of cuts)
    for (const rest of [Buffer.alloc(0), Buffer.alloc(frames.length - at, 0xa5)]) {
      const there = join(dir, 'cut');
      rmSync(there, { recursive: true, force: true });
      mkdirSync(there);
      writeFileSync(join(there, RECORDS_FILE.name), file);
      writeFileSync(
        join(there, `${RECORDS_FILE.name}-wal`),
        Buffer.concat([frames.subarray(0, at), rest]),
      );
      const after = openedStore(there, 2);
      for (const { code } of after.faults) seen.add(code);
      const due = captures.filter((_, n) => (syncedAt[n] ?? Infinity) <= at);
      const held = capturesHeld(after, captures);
      acknowledged += due.length;
      lost += due.filter((n) => !held.includes(n)).length;
      // Half a capture would be one that is listed and not whole.
      extra += after.captures(OUTING.id).length - held.length;
      after.close();
    }
  return {
    seen:
      seen.size === 0 ? ['Nothing: it opens as if nothing had been.'] : [...seen].map(faultWords),
    kept: `${2 * cuts.length} states of the disk, ${acknowledged} captures due in them: ${acknowledged - lost} whole, ${extra} by half`,
    others: null,
    unnamed: [],
    acknowledged,
    lost: lost + extra,
    frames: 0,
    staleAsLive: 0,
  };
};

export const FILE_FAULTS: readonly Fault[] = [
  ...DAMAGES.map(([what], which) => ({
    name: `page damaged, ${what}`,
    done: `every page of the records’ file in turn: ${what}`,
    run: (dir: string, share: number) => damagedPages(dir, share, which),
  })),
  {
    name: 'power cut at any write',
    done: 'the log is cut after every page written and within it, the rest missing or garbage',
    run: powerCut,
  },
];
