import { typedDay } from '../format/day.ts';
import { utcIso } from '../format/civilTime.ts';

/** What a copy of the records is called: sorted by name they are sorted by time. */
export interface BackupName {
  /** Wall-clock label, ms, whole seconds. */
  readonly at: number;
  /** Whose copy it is: one folder may hold those of several computers. */
  readonly machine: string;
}

const PATTERN = /^millpond-(\d{8})T(\d{6})Z-([a-z0-9]{1,24})(?:-\d{1,3})?\.db$/u;

/** A computer's name as it stands in names of copies: its first part, letters and digits, at most 24. */
export const machineInName = (hostName: string): string =>
  (hostName.split('.')[0] ?? '')
    .toLowerCase()
    .replaceAll(/[^a-z0-9]/gu, '')
    .slice(0, 24) || 'computer';

/** `millpond-20260131T120500Z-pitlaptop.db`; `again` (2, 3, …) tells those of one second apart. */
export const backupName = ({ at, machine }: BackupName, again = 1): string => {
  const digits = utcIso(at).replaceAll(/[-:]/gu, '');
  return `millpond-${digits}-${machine}${again > 1 ? `-${again}` : ''}.db`;
};

/** Reads a name back; null for every other name. */
export const readBackupName = (name: string): BackupName | null => {
  const [, date = '', time = '', machine = ''] = PATTERN.exec(name) ?? [];
  const day = typedDay(`${date.slice(0, 4)}-${date.slice(4, 6)}-${date.slice(6)}`);
  const [hour, minute, second] = [0, 2, 4].map((from) => Number(time.slice(from, from + 2)));
  if (day === null || hour === undefined || minute === undefined || second === undefined)
    return null;
  if (hour > 23 || minute > 59 || second > 59) return null;
  return { at: (((day * 24 + hour) * 60 + minute) * 60 + second) * 1000, machine };
};
