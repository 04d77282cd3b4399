import { refuse, stored, type Handlers } from './answering.ts';
import type { BackupOutcome, BackupPort } from './backupPort.ts';
import { BACKUP_WORDS } from './backupWords.ts';
import type { Answer } from './screens.ts';
import type { BenchWorkings } from './workings.ts';

/** Copies of the records: where they go, making one, putting one back, joining another computer's. */

const NOT_OPEN = refuse(
  'The records could not be opened, so nothing can be copied or put back.',
  'See what is said at the top of the screen.',
);
const NO_FOLDER = refuse('No folder for copies is chosen.', 'Choose one first.');

const refused = (outcome: BackupOutcome<unknown> & { readonly ok: false }): Answer => {
  const { why, next } = BACKUP_WORDS[outcome.why];
  return refuse(why, next);
};

/** Runs what needs the records to be open. */
const withPort = async (
  bench: BenchWorkings,
  work: (port: BackupPort) => Promise<Answer>,
): Promise<Answer> => {
  const { port } = bench.backingUp;
  return port ? work(port) : NOT_OPEN;
};

export const BACKUP_HANDLERS: Handlers<
  'choose copy folder' | 'copy now' | 'list copies' | 'check copy' | 'restore copy' | 'join records'
> = {
  'choose copy folder': (bench, { folder }) =>
    withPort(bench, async (port) => {
      const looked = folder === null ? null : await port.look(folder);
      if (looked && !looked.ok) return refused(looked);
      const { memory, backingUp } = bench;
      const outcome = memory.changeSettings({ ...memory.settings, copyFolder: folder });
      if (!outcome.ok) return stored(outcome);
      backingUp.folderChanged();
      return { ok: true, result: { is: 'copy folder', free: looked?.free ?? null } };
    }),
  'copy now': (bench) =>
    withPort(bench, async () => {
      const made = await bench.backingUp.copyNow();
      if (!made) return NO_FOLDER;
      if (!made.ok) return refused(made);
      return { ok: true, result: { is: 'copied', name: made.name, isNew: made.isNew } };
    }),
  'list copies': (bench, { folder }) =>
    withPort(bench, async (port) => {
      const found = await port.list(folder);
      return found.ok
        ? { ok: true, result: { is: 'copies', copies: [...found.copies] } }
        : refused(found);
    }),
  'check copy': (bench, { folder, name }) =>
    withPort(bench, async (port) => {
      const checked = await bench.backingUp.during('checking', () => port.check({ folder, name }));
      return checked.ok
        ? { ok: true, result: { is: 'copies', copies: [checked.copy] } }
        : refused(checked);
    }),
  'restore copy': (bench, { folder, name }) =>
    withPort(bench, async (port) => {
      const { backingUp } = bench;
      const restored = await backingUp.during('restoring', () => port.restore({ folder, name }));
      if (!restored.ok) return refused(restored);
      backingUp.replaced();
      port.startAgain();
      const { captures, records, setAside } = restored;
      return { ok: true, result: { is: 'restored', captures, records, setAside } };
    }),
  'join records': (bench, { folder, name }) =>
    withPort(bench, async (port) => {
      const { backingUp } = bench;
      const joined = await backingUp.during('joining', () => port.join({ folder, name }));
      if (!joined.ok) return refused(joined);
      if (joined.setAside !== null) {
        backingUp.replaced();
        port.startAgain();
      }
      const { report, setAside } = joined;
      return { ok: true, result: { is: 'joined', report, setAside } };
    }),
};
