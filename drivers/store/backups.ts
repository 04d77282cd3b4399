import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { backupName, machineInName } from '../../core/bench/backupName.ts';
import type { BackupOutcome, BackupPort } from '../../core/bench/backupPort.ts';
import type { BackupShown } from '../../core/contract/backups.ts';
import { backupFailure } from './backupFolder.ts';
import { runBackupTask, type BackupRunning } from './backupRun.ts';
import type { BackupDone, BackupListed, BackupTask } from './backupTask.ts';
import { removeDatabase } from './restoreFetch.ts';
import type { RecordsInPlace } from './store.ts';

/** A file that is being made ready to take the records' place. */
const COMING = 'millpond-coming.db';
/** A join is begun anew where records came in meanwhile. */
const ATTEMPTS = 3;

type DoneOf<K extends BackupDone['is']> = Extract<BackupDone, { readonly is: K }>;

/** Copies of the records of one data folder. One task at a time, each in a worker. */
export const createBackups = (of: {
  readonly dataFolder: string;
  readonly records: RecordsInPlace;
  /** The name of this computer. */
  readonly machine: string;
  readonly wallClock: () => number;
  readonly newId: () => string;
  readonly startAgain: () => void;
  readonly run?: (task: BackupTask) => BackupRunning;
}): BackupPort => {
  const { dataFolder, records, wallClock, newId, run = runBackupTask } = of;
  const machine = machineInName(of.machine);
  const coming = join(dataFolder, COMING);
  const checked = new Set<string>();
  let current: BackupRunning | null = null;
  let isEnding = false;
  let last: Promise<unknown> = Promise.resolve();

  /** One after the other: nothing reads the records while they are replaced. */
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const mine = last.then(work);
    last = mine.catch(() => undefined);
    return mine;
  };
  const perform = async <K extends BackupDone['is']>(
    is: K,
    task: BackupTask,
  ): Promise<BackupOutcome<DoneOf<K>>> => {
    if (isEnding) return { ok: false, why: 'ending', detail: '' };
    current = run(task);
    const outcome = await current.end;
    current = null;
    if (!outcome.ok) return outcome;
    if (outcome.is !== is) return { ok: false, why: 'failed', detail: `a ${outcome.is} came` };
    return outcome as BackupOutcome<DoneOf<K>>;
  };

  const fileOf = ({ name, bytes, writtenAt }: BackupListed): string =>
    `${name} ${bytes} ${writtenAt}`;
  /** What was read through since the start counts as checked until its file changes. */
  const shown = (copy: BackupListed): BackupShown => {
    const { writtenAt: _writtenAt, ...rest } = copy;
    if (copy.state === 'checked') checked.add(fileOf(copy));
    return copy.state === 'looked at' && checked.has(fileOf(copy))
      ? { ...rest, state: 'checked' }
      : rest;
  };

  const asideName = (): string => {
    for (let again = 1; ; again += 1) {
      const name = backupName({ at: wallClock(), machine }, again);
      if (!existsSync(join(dataFolder, name))) return name;
    }
  };
  const replace = (): BackupOutcome<{ readonly setAside: string }> => {
    const setAside = asideName();
    try {
      records.replaceBy(coming, join(dataFolder, setAside));
      return { ok: true, setAside };
    } catch (error) {
      // The file may be closed by now: only a new start knows how it stands.
      of.startAgain();
      return backupFailure(error);
    }
  };
  const incoming = (folder: string | null, name: string) => ({
    dataFolder,
    folder: folder ?? dataFolder,
    name,
    coming,
    id: newId(),
    wallAt: wallClock(),
  });

  /** What will not take the records' place is not left lying beside them. */
  const discarded = <T>(outcome: T): T => {
    removeDatabase(coming);
    removeDatabase(`${coming}.there`);
    return outcome;
  };
  discarded(null);

  return {
    changes: records.changes,
    look: (folder) => inTurn(() => perform('looked', { do: 'look', dataFolder, folder })),
    make: (folder) =>
      inTurn(() =>
        perform('made', { do: 'make', dataFolder, folder, machine, wallAt: wallClock() }),
      ),
    list: (folder) =>
      inTurn(async () => {
        const found = await perform('listed', {
          do: 'list',
          dataFolder,
          folder: folder ?? dataFolder,
        });
        return found.ok ? { ok: true, copies: found.copies.map(shown) } : found;
      }),
    check: ({ folder, name }) =>
      inTurn(async () => {
        const found = await perform('listed', {
          do: 'check',
          dataFolder,
          folder: folder ?? dataFolder,
          name,
        });
        if (!found.ok) return found;
        const [copy] = found.copies;
        return copy ? { ok: true, copy: shown(copy) } : { ok: false, why: 'no copy', detail: name };
      }),
    restore: ({ folder, name }) =>
      inTurn(async () => {
        const ready = await perform('prepared', { do: 'restore', ...incoming(folder, name) });
        if (!ready.ok) return discarded(ready);
        const replaced = replace();
        if (!replaced.ok) return replaced;
        return {
          ok: true,
          captures: ready.captures,
          records: ready.records,
          setAside: replaced.setAside,
        };
      }),
    join: ({ folder, name }) =>
      inTurn(async () => {
        for (let attempt = 0; attempt < ATTEMPTS; attempt += 1) {
          const before = records.changes();
          const joined = await perform('joined', { do: 'join', ...incoming(folder, name) });
          if (!joined.ok) return discarded(joined);
          const { report } = joined;
          if (report.added.length + report.conflicts.length === 0)
            return { ok: true, report, setAside: null };
          // From here to the end nothing can come in between.
          if (records.changes() !== before) continue;
          const replaced = replace();
          return replaced.ok ? { ok: true, report, setAside: replaced.setAside } : replaced;
        }
        return discarded({ ok: false, why: 'changing', detail: '' });
      }),
    startAgain: of.startAgain,
    stop: async () => {
      isEnding = true;
      current?.cancel();
      await last;
    },
  };
};
