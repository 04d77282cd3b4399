import { join } from 'node:path';
import { CORNERS } from '../../core/corners.ts';
import type { Database } from '../../drivers/store/database.ts';
import {
  connect,
  openStore,
  type OpenedStore,
  type StoreOptions,
} from '../../drivers/store/open.ts';
import { openFile } from '../../drivers/store/openFile.ts';
import { createStore } from '../../drivers/store/store.ts';
import { RECORDER_FILE, RECORDS_FILE } from '../../drivers/store/storeFiles.ts';
import type { Fault } from './fault.ts';
import { captureSettled, standOnPads } from './faultBench.ts';
import { faultWords } from './seenWords.ts';

/** Faults of the disk and of who else uses it, while four good pads are read. */

/** The store on a disk that can be filled: a database that may not grow answers as on a full one. */
const fillable = () => {
  let files: readonly Database[] = [];
  const limit = (db: Database, pages: number): void =>
    void db.pragma(`max_page_count = ${pages}`, { simple: true });
  const fill = (): void => {
    for (const db of files) limit(db, Number(db.pragma('page_count', { simple: true })));
  };
  return {
    fill,
    empty: (): void => {
      for (const db of files) limit(db, 1_000_000);
    },
    open: (options: StoreOptions): OpenedStore => {
      const [records, recorder] = [RECORDS_FILE, RECORDER_FILE].map((file) =>
        openFile(join(options.dir, file.name), file, { absent: true, connect }),
      ) as [Database, Database];
      files = [records, recorder];
      const store = createStore({
        ...options,
        path: join(options.dir, RECORDS_FILE.name),
        records,
        recorder,
        faults: [],
        close: () => {
          for (const db of files) db.close();
        },
      });
      return { ok: true, store };
    },
  };
};

/** Another connection takes the records' write lock until it is called back. */
const holdRecords = (dir: string): (() => void) => {
  const path = join(dir, RECORDS_FILE.name);
  const other = connect({ path, readonly: false, mustExist: true, busyMs: 0 });
  other.exec('BEGIN IMMEDIATE');
  return () => {
    other.exec('ROLLBACK');
    other.close();
  };
};

export const STORE_FAULTS: readonly Fault[] = [
  {
    name: 'disk full',
    done: 'the disk is full for 12 s; Capture is pressed meanwhile and when there is room again',
    run: async (dir) => {
      const disk = fillable();
      const bench = await standOnPads({ dir, open: disk.open });
      await captureSettled(bench);
      bench.begin();
      disk.fill();
      await bench.run(12);
      // Some may fit into what is free within the file.
      for (let n = 0; n < 3; n += 1) await bench.capture();
      disk.empty();
      await bench.run(1);
      await captureSettled(bench);
      return bench.finish({ atFault: [] });
    },
  },
  {
    name: 'database locked at the first start',
    done: 'another program holds the new database while Millpond starts for the first time; let go of, Capture is pressed',
    run: async (dir) => {
      let letGo = (): void => undefined;
      const bench = await standOnPads({
        dir,
        open: (options) => {
          const opened = openStore(options);
          letGo = holdRecords(dir);
          return opened;
        },
        started: (screen) => {
          letGo();
          // What was to be opened was not: the choice could not be remembered, and was refused.
          void screen.command({ do: 'choose pads', source: 'bluetooth' });
        },
      });
      await captureSettled(bench);
      return bench.finish({ atFault: [], others: [] });
    },
  },
  {
    name: 'database locked',
    done: 'another program holds the records’ database for 5 s; Capture is pressed meanwhile and after',
    run: async (dir) => {
      const bench = await standOnPads({ dir });
      await captureSettled(bench);
      bench.begin();
      const letGo = holdRecords(dir);
      await bench.capture();
      await bench.run(5);
      letGo();
      await captureSettled(bench);
      return bench.finish({ atFault: [] });
    },
  },
  {
    name: 'second Millpond',
    done: 'another Millpond is started on the same data folder while captures are taken',
    run: async (dir) => {
      const bench = await standOnPads({ dir });
      await captureSettled(bench);
      bench.begin();
      const second = openStore({
        dir,
        wallClock: () => 0,
        newId: () => '0190a0c0-0003-7000-8000-000000000001',
        now: () => bench.now(),
      });
      if (second.ok) throw new Error('two of them have the folder');
      await captureSettled(bench);
      await bench.run(5);
      const observed = await bench.finish({ atFault: [], others: CORNERS });
      return {
        ...observed,
        seen: [`The second: ${faultWords(second.fault.code)}`, ...observed.seen],
      };
    },
  },
];
