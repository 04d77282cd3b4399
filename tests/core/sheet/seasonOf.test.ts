import { expect, test } from 'vitest';
import { EXAMPLE_SHEET } from '../../../core/sheet/exampleSheet.ts';
import { seasonOf, type SeasonRecord } from '../../../core/sheet/seasonOf.ts';
import { freshRecord, read, RULE, sourcesOf, work } from './sampleRecord.ts';

const at = (day: number): number => 1_764_000_000_000 + day * 86_400_000;
const measuredOn = (
  day: number,
  height: number,
  change: Parameters<typeof freshRecord>[0] = {},
): SeasonRecord => ({
  sources: sourcesOf(
    read(freshRecord({ id: `record ${day}`, begunAt: at(day), ...change }), {
      item: 'height.LF',
      value: height,
      gauge: RULE,
    }),
  ),
  sheet: EXAMPLE_SHEET,
  venueName: 'Larkfell',
});
const all = { carId: null, venueId: null, phase: null } as const;

test('an item over the season, in order, with targets; what is set aside or stale is not in it', () => {
  const stale = measuredOn(4, 0.07);
  const records = [
    measuredOn(3, 0.0655),
    measuredOn(1, 0.065),
    measuredOn(2, 0.0652, { setAside: true }),
    {
      ...stale,
      sources: { ...stale.sources, record: work(stale.sources.record, 'height adjuster') },
    },
  ];
  expect(
    seasonOf(records, 'height.LF', all).map(({ recordId, value, target }) => [
      recordId,
      value.value,
      target,
    ]),
  ).toEqual([
    ['record 1', 0.065, 0.065],
    ['record 3', 0.0655, 0.065],
  ]);
  expect(seasonOf(records, 'camber.LF', all)).toEqual([]);
});

test('filters by car, venue and phase, and marks the release', () => {
  const records = [
    measuredOn(1, 0.065, { phase: 'set-up', venueId: 'a' }),
    measuredOn(2, 0.066, { phase: 'set-down', venueId: 'b' }),
  ];
  const released = {
    ...EXAMPLE_SHEET,
    released: { at: at(1), who: '', recordId: 'record 1', asBuilt: [], backToRunning: [] },
  };
  const of = (filter: Parameters<typeof seasonOf>[2]): readonly (readonly [string, boolean])[] =>
    seasonOf(
      records.map((record) => ({ ...record, sheet: released })),
      'height.LF',
      filter,
    ).map(({ recordId, isRelease }) => [recordId, isRelease]);
  expect(of({ ...all, phase: 'set-down' })).toEqual([['record 2', false]]);
  expect(of({ ...all, venueId: 'a' })).toEqual([['record 1', true]]);
  expect(of({ ...all, carId: 'another' })).toEqual([]);
});
