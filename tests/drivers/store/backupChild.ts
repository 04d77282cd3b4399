import { truncateSync } from 'node:fs';
import { doBackupTask } from '../../../drivers/store/backupTask.ts';
import { connect } from '../../../drivers/store/open.ts';

/**
 * Makes one copy and says how it went. Whoever started it limits the length of its files, or has it killed
 * midway: half of the copy is on the disk then.
 */

const [dataFolder = '', folder = '', how] = process.argv.slice(2);

const outcome = doBackupTask(
  { do: 'make', dataFolder, folder, machine: 'pit', wallAt: 1_700_000_000_000 },
  (options) => {
    const db = connect(options);
    if (how !== 'killed') return db;
    return {
      ...db,
      prepare: (sql) => {
        const statement = db.prepare(sql);
        return {
          ...statement,
          run: (values) => {
            statement.run(values);
            truncateSync(String(values?.['into']), 150_000);
            process.kill(process.pid, 'SIGKILL');
          },
        };
      },
    } as typeof db;
  },
);
process.stdout.write(JSON.stringify(outcome));
