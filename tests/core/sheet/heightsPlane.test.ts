import { expect, test } from 'vitest';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import type { Datum } from '../../../core/sheet/carRecord.ts';
import { heightsPlane } from '../../../core/sheet/heightsPlane.ts';
import { freshRecord, read, RULE, sourcesOf, work } from './sampleRecord.ts';

/** The example car's floor stands 3.7 mm a metre nose down; its points are read by a 0.3 mm rule. */
const measured = (
  off: Readonly<Record<string, number>> = {},
  { skip = '', datum = 'patch' as Datum } = {},
) => {
  let record = freshRecord();
  for (const { id, x, name } of EXAMPLE_CAR.details?.heightPoints ?? [])
    if (id !== skip)
      record = read(record, {
        item: `height.${id}`,
        value: 0.0637 - 0.0037 * x + (off[id] ?? 0),
        gauge: RULE,
        datum: name.startsWith('left front') ? datum : 'patch',
      });
  return record;
};
const said = (record: ReturnType<typeof measured>) => heightsPlane(EXAMPLE_CAR, sourcesOf(record));

test('heights in one plane say nothing; one that is 4 mm off is out of it', () => {
  expect(said(measured())).toBeNull();
  // Four points cannot tell which of them it is.
  expect(said(measured({ RR: 0.004 }))).toContain('a fifth reference point');
});

test('nothing is said of heights that are not all there, not fresh, or of different datums', () => {
  expect(said(measured({ RR: 0.004 }, { skip: 'LF' }))).toBeNull();
  expect(said(work(measured({ RR: 0.004 }), 'height adjuster', { corner: 'LF' }))).toBeNull();
  expect(said(measured({ RR: 0.004 }, { datum: 'ground' }))).toBeNull();
});
