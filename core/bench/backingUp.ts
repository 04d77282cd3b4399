import type { BackupsNow } from '../contract/backups.ts';
import { fault, type Fault } from '../faults.ts';
import type { Scheduler } from '../scheduler.ts';
import { second, type Second } from '../units.ts';
import { isBackupDue } from './backupDue.ts';
import { machineInName, readBackupName } from './backupName.ts';
import type { BackupMade, BackupOutcome, BackupPort } from './backupPort.ts';
import { BACKUP_WORDS } from './backupWords.ts';

/** Makes the copies when they are due, and says how it stands with them. */
export interface BackingUp {
  /** Null where the records could not be opened. */
  readonly port: BackupPort | null;
  shown(): BackupsNow;
  /** By hand; null where no folder was chosen. */
  copyNow(): Promise<BackupOutcome<BackupMade> | null>;
  /** Another folder, or none: what is known of the last copy is asked anew. */
  folderChanged(): void;
  /** Says on the screens what is under way; no copy is begun meanwhile. */
  during<T>(what: NonNullable<BackupsNow['underWay']>, work: () => Promise<T>): Promise<T>;
  /** The records were replaced: nothing is to be copied before the new start. */
  replaced(): void;
  /** The copy of what is in none yet, if it takes no longer than the deadline; then nothing runs. */
  stop(): Promise<void>;
}

const LOOK_PERIOD = second(60);
/** The end of the program does not wait longer for a slow stick: the next start copies. */
const CLOSING_DEADLINE = second(3);
/** A write that the stick does not give back cannot be ended. */
const ENDING_DEADLINE = second(1);

export const createBackingUp = (of: {
  readonly port: BackupPort | null;
  readonly scheduler: Scheduler;
  readonly machine: string;
  readonly folder: () => string | null;
  readonly note: (fault: Fault) => void;
  readonly changed: () => void;
}): BackingUp => {
  const { port, scheduler, folder, note, changed } = of;
  const machine = machineInName(of.machine);
  let lastAt: number | null = null;
  let trouble: string | null = null;
  let failedAt: Second | null = null;
  let underWay: BackupsNow['underWay'] = null;
  let isReplaced = false;

  // Of what was before the start nothing is known: the first look finds out whether it is copied.
  let firstChangeAt: Second | null = scheduler.now();
  let lastChangeAt = scheduler.now();
  let seen = port?.changes() ?? 0;
  const look = (): void => {
    const now = isReplaced ? seen : (port?.changes() ?? 0);
    if (now === seen) return;
    seen = now;
    lastChangeAt = scheduler.now();
    firstChangeAt ??= lastChangeAt;
  };

  const during = async <T>(
    what: NonNullable<BackupsNow['underWay']>,
    work: () => Promise<T>,
  ): Promise<T> => {
    underWay = what;
    changed();
    try {
      return await work();
    } finally {
      underWay = null;
      changed();
    }
  };

  const copy = async (into: string): Promise<BackupOutcome<BackupMade> | null> => {
    if (!port) return null;
    look();
    const behindSince = firstChangeAt;
    firstChangeAt = null;
    const made = await during('copying', () => port.make(into));
    // Of a folder that was chosen for another meanwhile nothing is to be said.
    if (folder() !== into) return made;
    if (made.ok) {
      lastAt = made.at;
      trouble = null;
      failedAt = null;
    } else {
      firstChangeAt = behindSince ?? firstChangeAt ?? scheduler.now();
      failedAt = scheduler.now();
      const words = BACKUP_WORDS[made.why];
      const said = `${words.why} ${words.next}`;
      if (said !== trouble)
        note(fault('copy-not-made', failedAt, { subject: into, detail: words.why }));
      trouble = said;
    }
    changed();
    return made;
  };

  const findLast = async (): Promise<void> => {
    const into = folder();
    if (!port || into === null) return;
    const found = await port.list(into);
    if (!found.ok || folder() !== into || lastAt !== null) return;
    const own = found.copies.find(({ name, state }) => {
      const read = readBackupName(name);
      return read?.machine === machine && state !== 'damaged';
    });
    lastAt = own?.at ?? null;
    changed();
  };
  void findLast();

  let running: Promise<unknown> = Promise.resolve();
  const tick = (): void => {
    look();
    const into = folder();
    if (into === null || underWay !== null || isReplaced) return;
    const now = scheduler.now();
    const since = (at: Second | null): Second | null => (at === null ? null : second(now - at));
    const isDue = isBackupDue({
      firstChange: since(firstChangeAt),
      lastChange: second(now - lastChangeAt),
      failure: since(failedAt),
    });
    if (isDue) running = copy(into);
  };
  const cancel = port ? scheduler.every('copies', LOOK_PERIOD, tick) : () => undefined;

  const within = async (name: string, deadline: Second, work: Promise<unknown>): Promise<void> => {
    const late = Promise.withResolvers<void>();
    const cancelLate = scheduler.after(name, deadline, late.resolve);
    await Promise.race([work, late.promise]);
    cancelLate();
  };

  return {
    port,
    shown: () => {
      look();
      return {
        isAvailable: port !== null,
        folder: folder(),
        lastAt,
        isBehind: isReplaced || firstChangeAt !== null,
        underWay,
        trouble,
      };
    },
    copyNow: async () => {
      const into = folder();
      return into === null ? null : copy(into);
    },
    folderChanged: () => {
      lastAt = null;
      trouble = null;
      failedAt = null;
      firstChangeAt ??= scheduler.now();
      void findLast();
    },
    during,
    replaced: () => {
      isReplaced = true;
      firstChangeAt = null;
    },
    stop: async () => {
      cancel();
      if (!port) return;
      look();
      const into = folder();
      const isWanted = into !== null && firstChangeAt !== null && !isReplaced && underWay === null;
      await within('closing copy', CLOSING_DEADLINE, isWanted ? copy(into) : running);
      await within('copies end', ENDING_DEADLINE, port.stop());
    },
  };
};
