import { expect, test } from 'vitest';
import { utcInWords, utcIso } from '../../../core/format/civilTime.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';

test('the calendar is that of the language itself, leap days and turns of centuries among it', () => {
  const random = createRandom(4);
  const labels = [
    0,
    -1,
    Date.UTC(2000, 1, 29, 23, 59, 59),
    Date.UTC(2024, 1, 29),
    Date.UTC(2100, 1, 28, 12),
    Date.UTC(2100, 2, 1),
    Date.UTC(1999, 11, 31, 23, 59, 59, 999),
    Date.UTC(2026, 0, 1),
    ...Array.from({ length: 3000 }, () => Math.floor((random.uniform() - 0.2) * 5e12)),
  ];
  for (const label of labels)
    expect(utcIso(label)).toBe(new Date(label).toISOString().replace(/\.\d+/, ''));
});

test('in words', () => {
  expect(utcInWords(Date.UTC(2026, 5, 1, 7, 5))).toBe('1 Jun 2026, 07:05 UTC');
  expect(() => utcInWords(Number.NaN)).toThrow(RangeError);
});
