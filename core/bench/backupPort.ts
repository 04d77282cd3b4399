import type { BackupShown, JoinedReport } from '../contract/backups.ts';

/** Why a copy could not be made, read, put in place or joined. */
export type BackupTrouble =
  /** Not the whole path of a folder. */
  | 'not a path'
  /** There is no such folder now: a stick that was pulled. */
  | 'no folder'
  /** The data folder itself or one within it. */
  | 'own folder'
  | 'not writable'
  | 'full'
  /** No copy of that name in the folder. */
  | 'no copy'
  /** The copy does not hold together. */
  | 'damaged'
  /** Written by a newer Millpond. */
  | 'newer'
  /** Another Millpond has it open. */
  | 'in use'
  /** Records came in faster than they could be joined. */
  | 'changing'
  /** The program is ending. */
  | 'ending'
  | 'failed';

export type BackupOutcome<T> =
  | ({ readonly ok: true } & T)
  | { readonly ok: false; readonly why: BackupTrouble; readonly detail: string };

/** One copy: by its name in a folder; null is the data folder, where replaced databases are set aside. */
export interface BackupAt {
  readonly folder: string | null;
  readonly name: string;
}

export interface BackupMade {
  readonly name: string;
  readonly at: number;
  /** False: the newest copy has everything already; it was opened and checked again. */
  readonly isNew: boolean;
}

/** Copies of the records in folders of this computer; what reads and writes them is the store's. */
export interface BackupPort {
  /** Goes up with every change of the records since the start. */
  changes(): number;
  /** Whether copies can be made there, and bytes free. */
  look(folder: string): Promise<BackupOutcome<{ readonly free: number }>>;
  /** Copies the records, opens and checks the copy, and removes what the rule no longer keeps. */
  make(folder: string): Promise<BackupOutcome<BackupMade>>;
  /** Newest first. Looks at each, but does not read it through. */
  list(folder: string | null): Promise<BackupOutcome<{ readonly copies: readonly BackupShown[] }>>;
  /** Reads one through. */
  check(copy: BackupAt): Promise<BackupOutcome<{ readonly copy: BackupShown }>>;
  /**
   * Puts the copy in the place of the records, which are set aside first. Then nothing more can be
   * written until `startAgain`.
   */
  restore(copy: BackupAt): Promise<
    BackupOutcome<{
      readonly captures: number;
      readonly records: number;
      readonly setAside: string;
    }>
  >;
  /** Joins the records of another computer with those here; as with `restore` where something came. */
  join(
    copy: BackupAt,
  ): Promise<BackupOutcome<{ readonly report: JoinedReport; readonly setAside: string | null }>>;
  /** Ends this process and has it started again, on what is in place now. */
  startAgain(): void;
  /** Ends what is under way; a copy that is not whole is left under a name that says so. */
  stop(): Promise<void>;
}
