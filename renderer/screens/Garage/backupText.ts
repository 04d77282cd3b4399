import type { BackupShown, BackupsNow, JoinedReport } from '../../../core/contract/backups.ts';
import type { Result } from '../../../core/contract/commands.ts';
import { counted } from '../../../core/format/counted.ts';
import { clockShown } from '../../clockShown.ts';

/** What is said of copies and of records that were joined. */

/** Parts of a capture and what goes without saying are not counted. */
const TABLES: Readonly<Record<string, readonly [one: string, many: string]>> = {
  captures: ['capture', 'captures'],
  kept: ['other record', 'other records'],
  cars: ['version of a car', 'versions of cars'],
  venues: ['version of a venue', 'versions of venues'],
  sessions: ['outing', 'outings'],
  calibrations: ['calibration', 'calibrations'],
  zeros: ['zero', 'zeros'],
  pads: ['pad', 'pads'],
  set_asides: ['capture set aside or taken back', 'captures set aside or taken back'],
};

const joinedText = (report: JoinedReport): string => {
  const came = report.added.flatMap(({ table, count }) => {
    const words = TABLES[table];
    return words ? [counted(count, ...words)] : [];
  });
  return [
    report.added.length === 0
      ? 'Everything was here already.'
      : `Joined: ${came.length > 0 ? came.join(', ') : counted(report.added.length, 'small record')}. ${counted(report.same, 'record was', 'records were')} here already.`,
    report.conflicts.length > 0
      ? `${counted(report.conflicts.length, 'record says', 'records say')} something else there: what was here counts, the other is kept beside it (${report.conflicts.map(({ table, id }) => `${table} ${id}`).join('; ')}).`
      : '',
    report.ahead > 0
      ? `${counted(report.ahead, 'record is', 'records are')} dated later than now: a clock was wrong, look at what counts as the newest.`
      : '',
  ]
    .filter(Boolean)
    .join(' ');
};

/** What a command with copies has done. */
export const backupResultText = (result: Result): string => {
  switch (result.is) {
    case 'copy folder':
      return result.free === null
        ? 'No more copies are made.'
        : `Copies go there: ${(result.free / 1e9).toFixed(1)} GB free.`;
    case 'copied':
      return result.isNew
        ? 'Copied, opened again and checked.'
        : 'The newest copy has everything: it was read through again and is whole.';
    case 'copies':
      return result.copies.some(({ state }) => state === 'damaged')
        ? 'It is damaged.'
        : 'Read through: it is whole.';
    case 'restored':
      return `Put back: ${counted(result.captures, 'capture')}. What was here before is set aside in the data folder as ${result.setAside}, and can be put back the same way.`;
    case 'joined':
      return result.setAside === null
        ? joinedText(result.report)
        : `${joinedText(result.report)} What was here before is set aside as ${result.setAside}.`;
    default:
      return 'Done.';
  }
};

/** How it stands with the copies, in one line. */
export const backupsText = ({ folder, lastAt, isBehind, underWay }: BackupsNow): string => {
  if (underWay === 'copying') return 'Copying.';
  if (folder === null) return 'No copies are made. Choose a folder on another disk or a stick.';
  const last =
    lastAt === null ? 'No copy of this computer yet.' : `Last copy ${clockShown(lastAt)}.`;
  return isBehind
    ? `${last} What came since is copied after five quiet minutes, at least every hour, and at the end.`
    : `${last} Everything is in it.`;
};

const STATES: Readonly<Record<BackupShown['state'], string>> = {
  checked: 'read through, whole',
  'looked at': 'checked when it was made',
  damaged: 'damaged',
  newer: 'of a newer Millpond',
};

/** `isAside`: it lies in the data folder, where nothing is copied but what was replaced is kept. */
export const stateText = ({ state, at }: BackupShown, isAside: boolean): string => {
  if (state !== 'looked at') return STATES[state];
  if (at === null) return 'a database, not looked into';
  return isAside ? 'kept as it was' : STATES[state];
};

/** "12.3 MB". */
export const sizeText = (bytes: number): string => `${(bytes / 1e6).toFixed(1)} MB`;

export const timeText = ({ at }: BackupShown): string =>
  at === null ? 'its records now' : clockShown(at);
