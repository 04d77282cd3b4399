import { readBackupName } from './backupName.ts';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
/** All of the last day, one a day for a month, one a week for a year: common practice, no source. */
const SPANS: readonly { readonly until: number; readonly one: number }[] = [
  { until: 30 * DAY, one: DAY },
  { until: 365 * DAY, one: 7 * DAY },
];

/**
 * Which of the names in a folder are copies of this computer that are no longer kept. Of a day or a
 * week the newest stays; days and weeks are those of UTC, so what was kept yesterday is kept today. The
 * newest copy of all always stays, copies dated later than now as well, and names that are not ours or
 * of another computer are never in the answer.
 */
export const backupsNotKept = (
  names: readonly string[],
  { machine, wallAt }: { readonly machine: string; readonly wallAt: number },
): readonly string[] => {
  const own = names
    .map((name) => ({ name, read: readBackupName(name) }))
    .flatMap(({ name, read }) => (read?.machine === machine ? [{ name, at: read.at }] : []))
    .toSorted((a, b) => b.at - a.at || (a.name < b.name ? 1 : -1));
  const taken = new Set<string>();
  return own
    .filter(({ at }, place) => {
      const age = wallAt - at;
      if (place === 0 || age <= DAY) return false;
      const span = SPANS.find(({ until }) => age <= until);
      if (!span) return true;
      const period = `${span.one} ${Math.floor(at / span.one)}`;
      if (taken.has(period)) return true;
      taken.add(period);
      return false;
    })
    .map(({ name }) => name);
};
