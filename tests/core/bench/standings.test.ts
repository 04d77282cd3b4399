import { expect, onTestFinished, test } from 'vitest';
import { createSeasonRecords } from '../../../core/bench/seasonRecords.ts';
import { createStandings } from '../../../core/bench/standings.ts';
import type { ToKeep } from '../../../core/bench/keptBook.ts';
import type { KeptBook } from '../../../core/bench/keptBook.ts';
import type { Memory } from '../../../core/bench/memory.ts';
import { keptSchema, type Kept } from '../../../core/contract/kept.ts';
import { DEFAULT_SETTINGS } from '../../../core/contract/settings.ts';
import { standingsSchema, type Standings } from '../../../core/contract/standings.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { EXAMPLE_SHEET } from '../../../core/sheet/exampleSheet.ts';
import { exampleState } from '../../renderer/harness/scenes.ts';
import { startPracticeBench } from '../../support/practiceBench.ts';
import { temporaryFolder } from '../../support/temporaryFolder.ts';
import { captureOf, freshRecord, LEVEL_WEIGHTS, weighed } from '../sheet/sampleRecord.ts';

/** How the answers stand, asked of the bench as the rail asks. */

const asSent = (record: ToKeep): Kept =>
  keptSchema.parse(JSON.parse(JSON.stringify({ ...record, id: 'x', at: 0, practice: false })));

const start = () => {
  const started = startPracticeBench({ dir: temporaryFolder(), source: 'rig' });
  onTestFinished(() => started.stop());
  const { screen, run } = started;
  const keep = (each: ToKeep) => screen.command({ do: 'keep', record: asSent(each) });
  const standings = async (): Promise<Standings> => {
    const result = await screen.command({ do: 'open standings' });
    if (result.is !== 'standings') throw new Error(result.is);
    return result.standings;
  };
  return { keep, run, standings, screen };
};
const tones = (standings: Standings) =>
  Object.fromEntries(
    Object.entries(standings).map(([place, standing]) => [place, standing?.tone ?? null]),
  );

test('records are not read at once for a mark: what is made of them is not known until they were', async () => {
  const { run, standings } = start();
  expect(tones(await standings())).toEqual({
    patch: 'wait',
    adjust: 'wait',
    measure: null,
    compare: null,
    scrutineering: null,
    season: null,
    garage: 'wait',
  });
  await run(1.5);
  const then = await standings();
  expect(Object.values(tones(then)).every((tone) => tone === 'wait')).toBe(true);
  expect(then.measure?.text).toBe(
    `Nothing is measured of ${EXAMPLE_CAR.name} and it has no sheet. Write one, or begin without.`,
  );
  expect(standingsSchema.parse(then)).toEqual(then);
});

test('what is kept changes them: sheet, records, captures, another car', async () => {
  const { keep, run, standings, screen } = start();
  await run(1.5);
  await keep({ kind: 'sheet', subject: EXAMPLE_SHEET.lineageId, sheet: EXAMPLE_SHEET });
  expect((await standings()).measure?.text).toContain('Begin a record with');
  for (const id of ['a', 'b']) {
    const record = weighed(freshRecord({ id, sheetId: null, practice: true }), `of ${id}`);
    const moved = { LF: 322.411, RF: 297.464, LR: 334.789, RR: 350.336 };
    const capture = captureOf(`of ${id}`, id === 'b' ? moved : LEVEL_WEIGHTS);
    await keep({ kind: 'capture read in', subject: capture.id, capture });
    for (const entry of record.entries)
      await keep({ kind: 'record entry', subject: id, entry, gauge: null });
    await keep({ kind: 'car record', subject: id, record: { ...record, entries: [] } });
  }
  const two = await standings();
  expect(tones(two)).toMatchObject({ compare: 'alarm', season: 'calm' });
  expect(two.season?.text).toContain('since the first of 2');
  await screen.command({ do: 'use car', car: { ...EXAMPLE_CAR, id: 'second', name: 'Second' } });
  expect(tones(await standings())).toMatchObject({ compare: 'wait', season: 'wait' });
});

test('nothing is worked out again while nothing changed; what fails costs only its own mark', () => {
  let asked = 0;
  const kept: Kept[] = [];
  const book = {
    all: (kind: string) => {
      if (kind === 'patch survey') asked += 1;
      if (kind === 'lowering') throw new Error('unreadable');
      return kept.filter((each) => each.kind === kind);
    },
    kept: 1,
  } as unknown as KeptBook;
  const memory = {
    cars: [EXAMPLE_CAR],
    car: EXAMPLE_CAR,
    captures: [],
    venues: [],
    settings: DEFAULT_SETTINGS,
    outing: { practice: false },
  } as unknown as Memory;
  const season = createSeasonRecords({ book, memory, capturesById: () => [] });
  for (let i = 0; i < 4; i += 1) season.readAhead();
  const standings = createStandings({
    book,
    memory,
    season,
    capturesById: () => [],
    gravity: () => 9.81,
    state: () => exampleState(),
  });
  const first = standings();
  expect(first.compare).toBeNull();
  expect(Object.values(first).filter((each) => each === null)).toHaveLength(1);
  expect(asked).toBe(1);
  const again = standings();
  expect(again.patch).toBe(first.patch);
  expect(again.scrutineering).toBe(first.scrutineering);
  expect(asked).toBe(1);
});
