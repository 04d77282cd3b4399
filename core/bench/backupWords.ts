import type { BackupTrouble } from './backupPort.ts';

/** What each trouble with copies means, and what to do about it. */
export const BACKUP_WORDS: Readonly<
  Record<BackupTrouble, { readonly why: string; readonly next: string }>
> = {
  'not a path': {
    why: 'This is not the whole path of a folder.',
    next: 'Type it from the root or the drive’s letter on.',
  },
  'no folder': {
    why: 'The folder is not there.',
    next: 'Plug the stick in, or choose another folder.',
  },
  'own folder': {
    why: 'This is where the records themselves are.',
    next: 'Choose a folder on another disk or a stick.',
  },
  'not writable': {
    why: 'The folder cannot be written to.',
    next: 'Choose another, or allow writing there.',
  },
  full: { why: 'The disk is full.', next: 'Make room on it, or choose another folder.' },
  'no copy': { why: 'This copy is not there any more.', next: 'Choose one from the list.' },
  damaged: { why: 'This copy is damaged.', next: 'Choose another; nothing was changed.' },
  newer: {
    why: 'This copy was made by a newer Millpond.',
    next: 'Bring this computer to the newer Millpond first.',
  },
  'in use': {
    why: 'Another Millpond has this database open.',
    next: 'Close it there, or take one of its copies.',
  },
  changing: {
    why: 'Records were made meanwhile, again and again.',
    next: 'Do it when nobody captures.',
  },
  ending: { why: 'Millpond is ending.', next: 'Start it again first.' },
  failed: {
    why: 'The disk could not be read or written.',
    next: 'Try again; if it stays so, use another folder or stick.',
  },
};
