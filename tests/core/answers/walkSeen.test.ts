import { expect, test } from 'vitest';
import { walkSeen, type WalkOf } from '../../../core/answers/walkSeen.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import type { CarRecord } from '../../../core/sheet/carRecord.ts';
import { EXAMPLE_SHEET } from '../../../core/sheet/exampleSheet.ts';
import { freshRecord, read, RULE, sourcesOf, weighed, work } from '../sheet/sampleRecord.ts';

const of = (record: CarRecord | null, change: Partial<WalkOf> = {}) =>
  walkSeen({
    car: EXAMPLE_CAR,
    sheets: [EXAMPLE_SHEET],
    record,
    sheet: record && EXAMPLE_SHEET,
    sources: record && sourcesOf(record),
    ...change,
  });

test('without a record nothing is walked, with or without a sheet', () => {
  expect(of(null)).toMatchObject({ walk: [], next: null, answer: { about: 'no record' } });
  expect(of(null, { sheets: [] }).answer).toMatchObject({ about: 'no sheet', tone: 'wait' });
});

test('a record that was begun: what the sheet asks for, the weights among it', () => {
  const { walk, next, weighing, stale, answer } = of(freshRecord());
  expect(walk.length).toBeGreaterThan(5);
  expect(walk).toContain(next);
  expect(weighing).toBe('to do');
  expect(stale.size).toBe(0);
  expect(answer.tone).toBe('wait');
  expect(answer.text).toMatch(/^0 of \d+ done\. Next: /u);
});

test('weights are done when weighed and stale when an adjuster was turned since', () => {
  const record = weighed(freshRecord(), 'capture-1');
  expect(of(record).weighing).toBe('done');
  const turned = of(work(record, 'height adjuster', { corner: 'RF' }));
  expect(turned.weighing).toBe('stale');
  expect(turned.answer.text).toContain('stale since right front height adjuster');
});

test('all done is good; without a sheet nothing but the walk is asked for', () => {
  const record = read(freshRecord({ walk: ['height.LF'], sheetId: null }), {
    item: 'height.LF',
    value: 0.065,
    gauge: RULE,
  });
  const seen = of(record, { sheet: null });
  expect(seen).toMatchObject({ weighing: 'not asked', next: null });
  expect(seen.answer).toMatchObject({ about: 'all done', tone: 'calm' });
});
