import { accessSync, constants, readdirSync, realpathSync, statfsSync, statSync } from 'node:fs';
import { isAbsolute, join, relative } from 'node:path';
import type { BackupOutcome, BackupTrouble } from '../../core/bench/backupPort.ts';
import { readBackupName } from '../../core/bench/backupName.ts';
import { saysDamaged } from './inspectFile.ts';
import { errorCode } from './storeFault.ts';
import { RECORDS_FILE } from './storeFiles.ts';

/** What stops a task with copies: a trouble of the closed list, thrown within and given as an answer. */
export class BackupError extends Error {
  readonly why: BackupTrouble;
  constructor(why: BackupTrouble, detail = '') {
    super(detail);
    this.why = why;
  }
}

/** Codes by which a system says that a folder or disk has gone, also midway. */
const GONE = new Set(['ENOENT', 'ENOTDIR', 'ENODEV', 'ENXIO', 'EIO', 'SQLITE_CANTOPEN']);
const FORBIDDEN = new Set(['EACCES', 'EPERM', 'EROFS', 'SQLITE_READONLY']);

const troubleOf = (error: unknown): BackupTrouble => {
  if (error instanceof BackupError) return error.why;
  const code = errorCode(error);
  if (code === 'ENOSPC' || code === 'EDQUOT' || code === 'SQLITE_FULL') return 'full';
  if (GONE.has(code)) return 'no folder';
  if (FORBIDDEN.has(code)) return 'not writable';
  if (code.startsWith('SQLITE_BUSY')) return 'in use';
  return saysDamaged(code) ? 'damaged' : 'failed';
};

/** Gives what was thrown as an answer. */
export const backupFailure = (error: unknown): BackupOutcome<never> => ({
  ok: false,
  why: troubleOf(error),
  detail: error instanceof Error ? error.message : String(error),
});

/** The folder as the system knows it. Throws BackupError where there is none. */
export const realFolder = (folder: string): string => {
  if (!isAbsolute(folder)) throw new BackupError('not a path');
  const isFolder = statSync(folder, { throwIfNoEntry: false })?.isDirectory() ?? false;
  if (!isFolder) throw new BackupError('no folder');
  return realpathSync(folder);
};

/** A folder that copies may go to: there, writable, and not where the records themselves are. */
export const folderForCopies = (folder: string, dataFolder: string): string => {
  const real = realFolder(folder);
  const way = relative(realpathSync(dataFolder), real);
  if (way === '' || (!way.startsWith('..') && !isAbsolute(way)))
    throw new BackupError('own folder');
  try {
    accessSync(real, constants.W_OK);
  } catch {
    throw new BackupError('not writable');
  }
  return real;
};

export const freeBytes = (folder: string): number => {
  const { bavail, bsize } = statfsSync(folder);
  return bavail * bsize;
};

/** Throws BackupError where a file of so many bytes would not fit. */
export const mustFit = (folder: string, bytes: number): void => {
  const free = freeBytes(folder);
  if (free < bytes) throw new BackupError('full', `${free} bytes free, ${bytes} needed`);
};

/** The copies in a folder, newest first; links and everything else are not looked at. */
export const backupNames = (folder: string): readonly string[] =>
  readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isFile() && readBackupName(entry.name) !== null)
    .map(({ name }) => name)
    .toSorted()
    .toReversed();

/** The path of one copy, or of another Millpond's own database. Throws BackupError on other names. */
export const backupPath = (folder: string, name: string, dataFolder: string): string => {
  const real = realFolder(folder);
  const isOwn = real === realpathSync(dataFolder);
  if (readBackupName(name) === null && (name !== RECORDS_FILE.name || isOwn))
    throw new BackupError('no copy');
  const path = join(real, name);
  const entry = readdirSync(real, { withFileTypes: true }).find((each) => each.name === name);
  if (!entry?.isFile()) throw new BackupError('no copy');
  return path;
};
