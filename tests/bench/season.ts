/**
 * A season on the screen: `npm run bench:season`. A database of 40 events × 8 sessions × 2 records, the
 * bench that reads it, and what the screens do with it: from the command as text to the answer in
 * words, with nothing drawn. Goals: the season opens and filters in less than 150 ms, a comparison
 * with causes takes less than 50 ms, and so do the standings for the rail, which nobody asks for.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { seasonAnswer } from '../../core/answers/seasonAnswer.ts';
import { loweringCells, loweringScatter } from '../../core/compare/repeatabilityLowering.ts';
import type { Command, Result } from '../../core/contract/commands.ts';
import type { KeptKind, KeptOf } from '../../core/contract/kept.ts';
import { parseWithoutEval } from '../../core/contract/parseWithoutEval.ts';
import { EXAMPLE_CAR } from '../../core/sheet/car.ts';
import { compareRecords } from '../../core/sheet/compareRecords.ts';
import { capturesNamed, recordsKept, sheetsKept, sourcesOf } from '../../core/sheet/keptRecords.ts';
import { newestStudy } from '../../core/sheet/loweringsKept.ts';
import type { SeasonFilter } from '../../core/sheet/seasonOf.ts';
import { EXAMPLE_VENUES } from '../../core/sheet/venue.ts';
import { openStore } from '../../drivers/store/open.ts';
import { newId, wallClock } from '../../electron/clock.ts';
import { createDrivenScheduler } from '../../core/scheduler.ts';
import { startPracticeBench } from '../support/practiceBench.ts';
import { fillSeason } from './seasonDatabase.ts';

// As in the window, where the content policy forbids making functions of text.
parseWithoutEval();

const TIMES = 30;
const quantile = (values: readonly number[], q: number): number => {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))] ?? Number.NaN;
};
/** Milliseconds by the clock, and of processor: the rest was waited for while others had it. */
interface Took {
  readonly wall: number;
  readonly processor: number;
}
const timed = async (work: () => unknown): Promise<Took> => {
  const [used, begun] = [process.cpuUsage(), performance.now()];
  await work();
  const wall = performance.now() - begun;
  const { user, system } = process.cpuUsage(used);
  return { wall, processor: (user + system) / 1000 };
};
const row = (what: string, times: readonly Took[], goal: number | null): void => {
  const of = (kind: keyof Took, q: number): number =>
    quantile(
      times.map((each) => each[kind]),
      q,
    );
  const [median, p95] = [of('wall', 0.5), of('wall', 0.95)];
  const said =
    goal === null ? '' : `goal < ${goal} ms: ${p95 < goal ? 'met' : 'NOT MET'} by the p95`;
  console.log(
    `${what.padEnd(46)} median ${median.toFixed(1).padStart(7)}  p95 ${p95.toFixed(1).padStart(7)} ms  of ${String(times.length).padStart(2)}, processor ${of('processor', 0.5).toFixed(1)} / ${of('processor', 0.95).toFixed(1)}  ${said}`,
  );
};

const dir = mkdtempSync(path.join(os.tmpdir(), 'millpond-season-'));
try {
  const opened = openStore({ dir, wallClock, newId, now: createDrivenScheduler().now });
  if (!opened.ok) throw new Error(opened.fault.code);
  const begun = performance.now();
  const ids = fillSeason(opened.store);
  opened.store.close();
  console.log(
    `${os.cpus().length} × ${os.cpus()[0]?.model}, Node ${process.version}, load ${os.loadavg()[0]?.toFixed(2)}; ` +
      `${ids.length} records filled in ${((performance.now() - begun) / 1000).toFixed(0)} s`,
  );

  const start = () => startPracticeBench({ dir, source: 'rig' });
  let run = start();
  const ask = (command: Command): Promise<Result> => run.screen.command(command);
  const season = async (item: string, filter: SeasonFilter): Promise<number> => {
    const result = await ask({ do: 'open season', item, filter });
    if (result.is !== 'season') throw new Error(result.is);
    const { text } = seasonAnswer({
      label: item,
      wanted: { kind: 'number', unit: null },
      points: result.points,
    });
    if (text === '') throw new Error('no answer');
    return result.points.length;
  };
  const kept = async <K extends KeptKind>(kind: K, subject: string | null = null) => {
    const result = await ask({ do: 'open kept', kind, subject });
    if (result.is !== 'kept') throw new Error(result.is);
    return result.records.filter((record): record is KeptOf<K> => record.kind === kind);
  };
  const all: SeasonFilter = { carId: EXAMPLE_CAR.id, venueId: null, phase: null };

  const atOnce: Took[] = [await timed(() => season('crossShare', all))];
  await run.stop();
  row('season, at once when the bench started', atOnce, null);

  const standings = async (): Promise<void> => {
    const result = await ask({ do: 'open standings' });
    if (result.is !== 'standings' || Object.values(result.standings).includes(null))
      throw new Error('a standing is not known');
  };
  run = start();
  // The bench reads the records ahead, a part four times a second.
  await run.run(10);
  const stood: Took[] = [await timed(standings)];
  await run.stop();
  row('standings on the rail, first since the start', stood, 50);

  run = start();
  await run.run(10);
  const first: Took[] = [await timed(() => season('crossShare', all))];
  row('season, first since the start, 10 s on', first, 150);

  const openings: Took[] = [];
  for (let i = 0; i < TIMES; i += 1)
    openings.push(
      await timed(async () => {
        const found = await season(i % 2 === 0 ? 'crossShare' : 'toe.RF', all);
        if (found !== ids.length) throw new Error(`${found} points`);
      }),
    );
  row('season, opened on an item', openings, 150);

  const keptOne: Took[] = [];
  for (let i = 0; i < TIMES; i += 1) {
    const heads = await ask({ do: 'open kept', kind: 'car record', subject: ids[0] ?? '' });
    const [head] = heads.is === 'kept' ? heads.records : [];
    if (!head) throw new Error('no record');
    await ask({ do: 'keep', record: head });
    keptOne.push(await timed(() => season('crossShare', all)));
  }
  row('season, opened after something was kept', keptOne, 150);

  const stoodAgain: Took[] = [];
  const stoodAsBefore: Took[] = [];
  for (let i = 0; i < TIMES; i += 1) {
    const [head] = (await kept('car record', ids[0] ?? '')).slice(-1);
    if (!head) throw new Error('no record');
    await ask({ do: 'keep', record: head });
    stoodAgain.push(await timed(standings));
    stoodAsBefore.push(await timed(standings));
  }
  row('standings, after something was kept', stoodAgain, 50);
  row('standings, nothing kept since', stoodAsBefore, null);

  const filtered: Took[] = [];
  for (let i = 0; i < TIMES; i += 1) {
    const venueId = EXAMPLE_VENUES[i % EXAMPLE_VENUES.length]?.id ?? null;
    const phase = i % 2 === 0 ? 'set-up' : 'set-down';
    filtered.push(await timed(() => season('crossShare', { ...all, venueId, phase })));
  }
  row('season, filtered by venue and phase', filtered, 150);

  const captured = async (wanted: readonly string[]) => {
    const result = await ask({ do: 'open captures', ids: [...wanted] });
    if (result.is !== 'captures') throw new Error(result.is);
    return new Map(result.captures.map((capture) => [capture.id, capture]));
  };
  const readAll = async () => {
    const records = recordsKept(await kept('car record'), await kept('record entry'));
    const sheets = sheetsKept(await kept('sheet'));
    return { records, sheets, captures: await captured(records.flatMap(capturesNamed)) };
  };
  const whole: Took[] = [];
  for (let i = 0; i < 5; i += 1) whole.push(await timed(readAll));
  row('every record as a message, to compare any two', whole, null);

  const { records, sheets, captures } = await readAll();
  const study = await kept('lowering');
  const lowered = await captured(study.map(({ captureId }) => captureId));
  const lowerings = newestStudy(study, (id) => lowered.get(id) ?? null);
  const compared: Took[] = [];
  for (let i = 0; i <= TIMES; i += 1) {
    const [before, after] = [records[2 * i], records[2 * i + 1]];
    if (!before || !after) throw new Error('too few records');
    const sheet = sheets[0] ?? null;
    compared.push(
      await timed(() => {
        const of = { car: EXAMPLE_CAR, captures, cross: 'RF+LR', sheet } as const;
        const found = compareRecords({
          car: EXAMPLE_CAR,
          before: sourcesOf(before, of),
          after: sourcesOf(after, of),
          sheet,
          repeat: loweringScatter(loweringCells(lowerings)),
          laying: null,
          gravity: 9.81,
          records,
          adjusted: { calls: [], learnt: null },
          checks: { surveys: [], massChecks: [], zeroShiftLimit: 0.2 },
          wording: { labels: 'LF RF LR RR', massUnit: 'kg' },
        });
        if (!found.causes) throw new Error(found.answer.text);
      }),
    );
  }
  row('comparison, first since the start', compared.slice(0, 1), 50);
  row('comparison of two records, with causes', compared.slice(1), 50);
  await run.stop();
} finally {
  rmSync(dir, { recursive: true, force: true });
}
