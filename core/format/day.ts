import { DAY_MS, utcIso } from './civilTime.ts';

/** A day as its number since 1 January 1970, in the Gregorian calendar. */

/** The day of a wall-clock label, ms. */
export const dayOfTime = (at: number): number => Math.floor(at / DAY_MS);

/** "2026-05-09". */
export const dayText = (day: number): string => utcIso(day * DAY_MS).slice(0, 10);

/** Hinnant's days_from_civil: years begin in March. */
const dayOf = (year: number, month: number, dayOfMonth: number): number => {
  const y = month <= 2 ? year - 1 : year;
  const era = Math.floor(y / 400);
  const yearOfEra = y - era * 400;
  const monthFromMarch = month > 2 ? month - 3 : month + 9;
  const dayOfYear = Math.floor((153 * monthFromMarch + 2) / 5) + dayOfMonth - 1;
  const leaps = Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100);
  return era * 146_097 + yearOfEra * 365 + leaps + dayOfYear - 719_468;
};

/** A day typed as year-month-day; null for anything else and for days that are not in the calendar. */
export const typedDay = (text: string): number | null => {
  const match = /^(\d{4})-(\d{1,2})-(\d{1,2})$/u.exec(text.trim());
  if (!match) return null;
  const [year = 0, month = 0, dayOfMonth = 0] = match.slice(1).map(Number);
  if (month < 1 || month > 12) return null;
  const day = dayOf(year, month, dayOfMonth);
  const whole = [year, month, dayOfMonth].map((part, i) =>
    String(part).padStart(i === 0 ? 4 : 2, '0'),
  );
  return dayText(day) === whole.join('-') ? day : null;
};
