import { expect, test } from 'vitest';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { EXAMPLE_VENUES } from '../../../core/sheet/venue.ts';
import type { KeptBook } from '../../../core/bench/keptBook.ts';
import type { Memory } from '../../../core/bench/memory.ts';
import { createSeasonRecords } from '../../../core/bench/seasonRecords.ts';
import type { Kept } from '../../../core/contract/kept.ts';
import { captureOf, freshRecord, LEVEL_WEIGHTS, weighed } from '../sheet/sampleRecord.ts';

/** Records of a season in the bench's hand: what was read once is not read again. */

const record = (id: string, venueId: string | null) =>
  weighed(freshRecord({ id, venueId }), `capture of ${id}`);
const keptOf = (of: ReturnType<typeof record>): readonly Kept[] =>
  [
    { kind: 'car record', subject: of.id, record: { ...of, entries: [] } },
    ...of.entries.map((entry) => ({
      kind: 'record entry',
      subject: of.id,
      entry,
      gauge: null,
    })),
  ] as unknown as readonly Kept[];

const bench = () => {
  const kept = { list: [] as Kept[], count: 1 };
  const asked: (readonly string[])[] = [];
  const book = {
    all: (kind: string) => kept.list.filter((each) => each.kind === kind),
    get kept() {
      return kept.count;
    },
  } as unknown as KeptBook;
  const outing = { practice: false };
  const memory = {
    cars: [EXAMPLE_CAR],
    car: EXAMPLE_CAR,
    venues: EXAMPLE_VENUES,
    settings: { cross: 'RF+LR' },
    outing,
  } as unknown as Memory;
  const season = createSeasonRecords({
    book,
    memory,
    capturesById: (ids) => {
      asked.push(ids);
      return ids.filter((id) => !id.includes('lost')).map((id) => captureOf(id, LEVEL_WEIGHTS));
    },
  });
  return {
    season,
    asked,
    outing,
    keep: (each: ReturnType<typeof record>): void => {
      kept.list.push(...keptOf(each));
      kept.count += 1;
    },
  };
};

test('records have their venue and captures, read once, and again only what is new', () => {
  const { season, asked, keep } = bench();
  keep(record('a', EXAMPLE_VENUES[1]?.id ?? null));
  const first = season.all();
  expect(first.map(({ venueName }) => venueName)).toEqual(['Port Sable']);
  expect([...(first[0]?.sources.captures.keys() ?? [])]).toEqual(['capture of a']);
  expect(season.all()).toBe(first);
  keep(record('b', null));
  expect(season.all()).toHaveLength(2);
  expect(asked).toEqual([['capture of a'], ['capture of b']]);
});

test('reading ahead leaves nothing to be read when it is asked for', () => {
  const { season, asked, keep } = bench();
  for (let i = 0; i < 70; i += 1) keep(record(String(i), null));
  for (let i = 0; i < 20; i += 1) season.readAhead();
  expect(asked.map(({ length }) => length)).toEqual([32, 32, 6]);
  expect(season.all()).toHaveLength(70);
  expect(asked).toHaveLength(3);
});

test('it says when it was read ahead, of this world', () => {
  const { season, asked, keep, outing } = bench();
  for (let i = 0; i < 40; i += 1) keep(record(String(i), null));
  const ticks = (): number => {
    for (let count = 0; count < 20; count += 1) {
      if (season.isReadAhead()) return count;
      season.readAhead();
    }
    return Number.NaN;
  };
  // Three kinds of records, then 32 captures and 8.
  expect(ticks()).toBe(5);
  outing.practice = true;
  expect(season.isReadAhead()).toBe(false);
  // This book has the same records in both worlds: all are known already.
  expect(ticks()).toBe(1);
  expect(asked).toHaveLength(2);
});

test('a capture that is nowhere is looked for again only when something was kept', () => {
  const { season, asked, keep } = bench();
  keep(record('lost', null));
  season.all();
  season.all();
  expect(asked).toEqual([['capture of lost']]);
  keep(record('b', null));
  season.all();
  expect(asked.at(-1)).toEqual(['capture of lost', 'capture of b']);
});
