const TIME = new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit' });
const DAY_AND_TIME = new Intl.DateTimeFormat('en-GB', {
  day: 'numeric',
  month: 'short',
  hour: '2-digit',
  minute: '2-digit',
});
const HALF_DAY_MS = 12 * 3600 * 1000;

/** The wall clock, ms since 1970: only ever a label. */
export const wallClock = (): number => Date.now();

/** A wall-clock label (ms since 1970) as people say it: the day only when it is not about now. */
export const clockShown = (at: number): string =>
  Math.abs(wallClock() - at) < HALF_DAY_MS ? TIME.format(at) : DAY_AND_TIME.format(at);
