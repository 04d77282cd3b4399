import { expect, test } from 'vitest';
import { measureAnswer, type MeasureSeen } from '../../../core/answers/measureAnswer.ts';

const RECORD: NonNullable<MeasureSeen['record']> = {
  phase: 'set-down',
  done: 10,
  of: 15,
  next: 'right rear camber',
  weighing: 'done',
  stale: 0,
  disturbedBy: null,
  questioned: 0,
  seconds: null,
};
const said = (record: Partial<typeof RECORD> | null, sheetName: string | null = 'Base no. 2') => {
  const { text, tone } = measureAnswer({
    carName: 'Heron R2',
    sheetName,
    record: record && { ...RECORD, ...record },
  });
  return [tone, text.replaceAll('\u00a0', ' ')];
};

test('before anything is measured', () => {
  expect(said(null)).toEqual([
    'wait',
    'Nothing is measured of Heron R2. Begin a record with Base no. 2.',
  ]);
  expect(said(null, null)[1]).toMatch(/has no sheet\. Write one, or begin without\./);
  expect(said({ of: 0, done: 0, next: null, weighing: 'not asked' })[1]).toMatch(
    /^Nothing is asked for/,
  );
});

test('on the way: how far, what is stale and since what, what comes next', () => {
  expect(said({})).toEqual(['wait', '11 of 16 done. Next: right rear camber.']);
  expect(said({ weighing: 'not asked' })[1]).toBe('10 of 15 done. Next: right rear camber.');
  expect(said({ weighing: 'stale', stale: 7, disturbedBy: 'left front height adjuster' })[1]).toBe(
    '10 of 16 done. 7 stale since left front height adjuster. Next: right rear camber.',
  );
  expect(said({ done: 15, next: null, weighing: 'to do' })[1]).toBe(
    '15 of 16 done. Next: weigh the car.',
  );
});

test('all done: in what time, what is still open, what comes after', () => {
  const done = { done: 15, next: null } as const;
  expect(said({ ...done, seconds: 222.4 })).toEqual([
    'calm',
    'All 16 done in 3 min 42 s. Compare it with the set-up.',
  ]);
  expect(said({ ...done, phase: 'set-up', seconds: 48 })[1]).toBe(
    'All 16 done in 48 s. Release the sheet.',
  );
  expect(said({ ...done, questioned: 1 })).toEqual([
    'wait',
    'All 16 done. 1 reading questioned and not repeated. Compare it with the set-up.',
  ]);
});

test('all done, and something was disturbed since by work that is not known', () => {
  const done = { done: 15, next: null } as const;
  expect(said({ ...done, phase: 'check', stale: 2 })).toEqual([
    'wait',
    'All 16 done. 2 stale. Compare it with the record before.',
  ]);
  expect(said({ ...done, weighing: 'not asked' })).toEqual([
    'calm',
    'All 15 done. Compare it with the set-up.',
  ]);
});
