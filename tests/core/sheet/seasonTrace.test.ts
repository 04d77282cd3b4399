import { expect, test } from 'vitest';
import type { SeasonPoint, TheirReading } from '../../../core/contract/season.ts';
import { seasonTrace } from '../../../core/sheet/seasonTrace.ts';

/** A day as its number since 1970: 25 November 2025. */
const TODAY = 20_417;
const at = (day: number, hour: number): number => (24 * (TODAY + day) + hour) * 3_600_000;
const point = (recordId: string, when: number): SeasonPoint => ({
  recordId,
  carId: 'heron',
  at: when,
  phase: 'set-up',
  venueName: 'Larkfell',
  value: { value: 1302, u: 0.1, dof: 20 },
  isLowerBound: false,
  target: null,
  isRelease: false,
});
const reading = (pairId: string, day: number | null): TheirReading => ({
  pairId,
  day: day === null ? null : TODAY + day,
  authorityName: 'Meridian Trophy',
  event: 'round 1',
  value: 1304,
});
const names = (entries: ReturnType<typeof seasonTrace>): readonly string[] =>
  entries.map((entry) => (entry.is === 'ours' ? entry.point.recordId : entry.reading.pairId));

test('ours and theirs lie in order of time; what has no date has no place', () => {
  const trace = seasonTrace(
    [point('morning', at(0, 8)), point('next week', at(7, 8))],
    [reading('their evening', 0), reading('some day', null), reading('far', 3)],
    true,
  );
  expect(names(trace)).toEqual(['morning', 'their evening', 'far', 'next week']);
});

test('of some records only, their readings within a day of one of them stay', () => {
  const trace = seasonTrace(
    [point('morning', at(0, 8))],
    [
      reading('the same day', 0),
      reading('a day on', 1),
      reading('the evening before', -1),
      reading('long before', -2),
    ],
    false,
  );
  expect(names(trace)).toEqual(['the evening before', 'morning', 'the same day']);
});
