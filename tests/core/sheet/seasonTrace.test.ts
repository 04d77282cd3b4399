import { expect, test } from 'vitest';
import type { SeasonPoint, TheirReading } from '../../../core/contract/season.ts';
import { seasonTrace } from '../../../core/sheet/seasonTrace.ts';

const HOUR = 3_600_000;
const at = (day: number, hour: number): number => 1_764_028_800_000 + (24 * day + hour) * HOUR;
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
const reading = (pairId: string, when: number | null): TheirReading => ({
  pairId,
  at: when,
  authorityName: 'Meridian Trophy',
  event: 'round 1',
  value: 1304,
});
const names = (entries: ReturnType<typeof seasonTrace>): readonly string[] =>
  entries.map((entry) => (entry.is === 'ours' ? entry.point.recordId : entry.reading.pairId));

test('ours and theirs lie in order of time; what has no date has no place', () => {
  const trace = seasonTrace(
    [point('morning', at(0, 8)), point('next week', at(7, 8))],
    [reading('their evening', at(0, 20)), reading('some day', null), reading('far', at(3, 0))],
    true,
  );
  expect(names(trace)).toEqual(['morning', 'their evening', 'far', 'next week']);
});

test('of some records only, their readings within a day of one of them stay', () => {
  const trace = seasonTrace(
    [point('morning', at(0, 8))],
    [reading('a day on', at(1, 8)), reading('later', at(1, 9)), reading('a day before', at(-1, 8))],
    false,
  );
  expect(names(trace)).toEqual(['a day before', 'morning', 'a day on']);
});
