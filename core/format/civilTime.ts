/** A wall-clock label in the calendar of UTC. */
interface CivilTime {
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly hour: number;
  readonly minute: number;
  readonly second: number;
}

/** A day, ms. */
export const DAY_MS = 86_400_000;

/**
 * Milliseconds since 1970 UTC as a date of the Gregorian calendar: days counted in eras of 400 years
 * that begin in March, so that the leap day is the last of a year (H. Hinnant, chrono-Compatible
 * Low-Level Date Algorithms, civil_from_days). Throws RangeError on a label that is not a whole number.
 */
const civilTime = (label: number): CivilTime => {
  if (!Number.isSafeInteger(label)) throw new RangeError(`not a wall-clock label: ${label}`);
  const days = Math.floor(label / DAY_MS);
  const seconds = Math.floor((label - days * DAY_MS) / 1000);
  const sinceMarch = days + 719_468;
  const era = Math.floor(sinceMarch / 146_097);
  const dayOfEra = sinceMarch - era * 146_097;
  const yearOfEra = Math.floor(
    (dayOfEra -
      Math.floor(dayOfEra / 1460) +
      Math.floor(dayOfEra / 36_524) -
      Math.floor(dayOfEra / 146_096)) /
      365,
  );
  const dayOfYear =
    dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const monthFromMarch = Math.floor((5 * dayOfYear + 2) / 153);
  const month = monthFromMarch < 10 ? monthFromMarch + 3 : monthFromMarch - 9;
  return {
    year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0),
    month,
    day: dayOfYear - Math.floor((153 * monthFromMarch + 2) / 5) + 1,
    hour: Math.floor(seconds / 3600),
    minute: Math.floor(seconds / 60) % 60,
    second: seconds % 60,
  };
};

const MONTHS = 'Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec'.split(' ');

const two = (part: number): string => String(part).padStart(2, '0');

/** "14 Nov 2023, 22:13 UTC". */
export const utcInWords = (label: number): string => {
  const { year, month, day, hour, minute } = civilTime(label);
  return `${day} ${MONTHS[month - 1] ?? ''} ${year}, ${two(hour)}:${two(minute)} UTC`;
};

/** "2023-11-14T22:13:20Z", after ISO 8601; years 0 to 9999. */
export const utcIso = (label: number): string => {
  const { year, month, day, hour, minute, second } = civilTime(label);
  return `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}T${two(hour)}:${two(minute)}:${two(second)}Z`;
};
