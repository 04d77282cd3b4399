import { expect, test } from 'vitest';
import { dayText, typedDay } from '../../../core/format/day.ts';

const DAY_MS = 86_400_000;

test('days of four centuries, there and back, as the platform counts them', () => {
  for (let day = -60_000; day < 90_000; day += 17) {
    const text = new Date(day * DAY_MS).toISOString().slice(0, 10);
    expect(dayText(day)).toBe(text);
    expect(typedDay(text)).toBe(day);
  }
});

test('a day without noughts is understood, one that is not in the calendar is not', () => {
  expect(typedDay(' 2026-5-9 ')).toBe(Date.UTC(2026, 4, 9) / DAY_MS);
  expect(typedDay('2028-02-29')).toBe(Date.UTC(2028, 1, 29) / DAY_MS);
  for (const wrong of ['2026-02-29', '2026-13-01', '2026-00-10', '2026-04-31', '9.5.2026', ''])
    expect(typedDay(wrong), wrong).toBeNull();
});
