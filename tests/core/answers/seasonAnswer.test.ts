import { expect, test } from 'vitest';
import { seasonAnswer } from '../../../core/answers/seasonAnswer.ts';
import type { SeasonPoint } from '../../../core/contract/season.ts';

const point = (value: number, target: number | null = null): SeasonPoint => ({
  recordId: `at ${value}`,
  carId: 'heron',
  at: 0,
  phase: 'set-up',
  venueName: 'Larkfell',
  value: { value, u: 0.0003, dof: 20 },
  isLowerBound: false,
  target,
  isRelease: false,
});
const said = (points: readonly SeasonPoint[]): readonly [string, string] => {
  const { text, tone } = seasonAnswer({
    label: 'cross weight',
    wanted: { kind: 'share', unit: '%' },
    points,
  });
  return [tone, text.replaceAll('\u00a0', ' ')];
};

test('no record has the item', () => {
  expect(said([])).toEqual([
    'wait',
    'No record says what cross weight was. Measure it, and it is here.',
  ]);
});

test('measured once: there is nothing to hold it against', () => {
  expect(said([point(0.5)])).toEqual(['calm', 'Cross weight was 50.00 %, once so far.']);
});

test('over a season: now, since the first, and from its target where there is one', () => {
  // 50.40 % after 50.00 and 51.00: 0.40 more than the first; 0.10 under a target of 50.50.
  expect(said([point(0.5), point(0.51), point(0.504)])).toEqual([
    'calm',
    'Cross weight 50.40 % now, +0.40 % since the first of 3.',
  ]);
  expect(said([point(0.5), point(0.504, 0.505)])[1]).toBe(
    'Cross weight 50.40 % now, +0.40 % since the first of 2. −0.10 % from its target.',
  );
});
