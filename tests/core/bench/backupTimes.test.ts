import { expect, onTestFinished, test } from 'vitest';
import { createBackingUp } from '../../../core/bench/backingUp.ts';
import type { BackupOutcome, BackupPort, BackupTrouble } from '../../../core/bench/backupPort.ts';
import type { Fault } from '../../../core/faults.ts';
import { createDrivenScheduler } from '../../../core/scheduler.ts';
import { second } from '../../../core/units.ts';
import { RefusedError } from '../../support/benchScreen.ts';
import { startPracticeBench } from '../../support/practiceBench.ts';
import { temporaryFolder } from '../../support/temporaryFolder.ts';

const MINUTE = 60;

/** A port that notes when copies were made, on the driven clock, and fails as it is told. */
const port = (clock: () => number) => {
  const told = {
    changes: 0,
    trouble: null as BackupTrouble | null,
    made: [] as number[],
    /** Copies that were begun and are held up. */
    held: null as (() => void)[] | null,
    starts: 0,
    stopped: false,
  };
  const refused = (why: BackupTrouble): BackupOutcome<never> => ({ ok: false, why, detail: '' });
  const its: BackupPort = {
    changes: () => told.changes,
    look: async (folder) => (folder === '/stick' ? { ok: true, free: 1e9 } : refused('no folder')),
    make: async () => {
      if (told.held) await new Promise<void>((resolve) => told.held?.push(resolve));
      if (told.trouble) return refused(told.trouble);
      told.made.push(clock());
      return { ok: true, name: `copy ${told.made.length}`, at: 1000 * clock(), isNew: true };
    },
    list: async () => ({ ok: true, copies: [] }),
    check: async () => refused('no copy'),
    restore: async ({ name }) =>
      name === 'millpond.db'
        ? { ok: true, captures: 3, records: 40, setAside: 'millpond-aside.db' }
        : refused('damaged'),
    join: async ({ name }) => ({
      ok: true,
      report: { added: [], same: 7, conflicts: [], ahead: 0 },
      setAside: name === 'millpond.db' ? 'millpond-aside.db' : null,
    }),
    startAgain: () => void (told.starts += 1),
    stop: async () => void (told.stopped = true),
  };
  return { told, its };
};

const setUp = (folder: string | null = '/stick') => {
  const scheduler = createDrivenScheduler();
  const { told, its } = port(() => scheduler.now());
  const faults: Fault[] = [];
  const chosen = { folder };
  const backingUp = createBackingUp({
    port: its,
    scheduler,
    machine: 'pit',
    folder: () => chosen.folder,
    note: (fault) => faults.push(fault),
    changed: () => undefined,
  });
  /** Moves the clock on minute by minute, with a change in each minute where there are any. */
  const pass = async (minutes: number, changing = false): Promise<void> => {
    for (let minute = 0; minute < minutes; minute += 1) {
      if (changing) told.changes += 1;
      scheduler.advance(second(MINUTE));
      for (let n = 0; n < 10; n += 1) await Promise.resolve();
    }
  };
  return { scheduler, told, faults, chosen, backingUp, pass };
};

test('five quiet minutes after a change it is copied, once', async () => {
  const { told, pass, backingUp } = setUp();
  await pass(10);
  expect(told.made, 'what was before the start may be in no copy').toEqual([5 * MINUTE]);
  expect(backingUp.shown()).toMatchObject({ isBehind: false, lastAt: 300_000 });
  await pass(60);
  expect(told.made).toHaveLength(1);
  await pass(3, true);
  expect(backingUp.shown().isBehind).toBe(true);
  expect(told.made).toHaveLength(1);
  await pass(10);
  expect(told.made).toEqual([5 * MINUTE, 78 * MINUTE]);
});

test('a day without a quiet minute is copied every hour', async () => {
  const { told, pass } = setUp();
  await pass(5);
  await pass(300, true);
  const gaps = told.made.slice(1).map((at, n) => at - (told.made[n] ?? 0));
  expect(gaps).toEqual([61, 61, 61, 61].map((minutes) => minutes * MINUTE));
});

test('no folder, no copies; a folder chosen is copied to soon', async () => {
  const { told, pass, chosen, backingUp } = setUp(null);
  await pass(120, true);
  expect(told.made).toEqual([]);
  expect(await backingUp.copyNow()).toBeNull();
  chosen.folder = '/stick';
  backingUp.folderChanged();
  await pass(1, true);
  expect(told.made).toHaveLength(1);
});

test('the stick is pulled: said once, tried again every five minutes, copied when it is back', async () => {
  const { told, faults, pass, backingUp } = setUp();
  told.trouble = 'no folder';
  await pass(30);
  expect(told.made).toEqual([]);
  expect(faults.map(({ code, subject }) => [code, subject])).toEqual([['copy-not-made', '/stick']]);
  expect(backingUp.shown()).toMatchObject({
    isBehind: true,
    trouble: 'The folder is not there. Plug the stick in, or choose another folder.',
  });
  told.trouble = null;
  await pass(5);
  expect(told.made).toHaveLength(1);
  expect(backingUp.shown()).toMatchObject({ isBehind: false, trouble: null });
  told.trouble = 'full';
  await pass(10, true);
  await pass(10);
  expect(faults).toHaveLength(2);
});

test('what is recorded while a copy is made is behind it', async () => {
  const { told, pass, backingUp } = setUp();
  told.held = [];
  await pass(6);
  expect(backingUp.shown().underWay).toBe('copying');
  told.changes += 1;
  await pass(120);
  expect(told.held, 'one at a time').toHaveLength(1);
  told.held.forEach((go) => go());
  told.held = null;
  await pass(1);
  expect(backingUp.shown().underWay).toBeNull();
  expect(backingUp.shown().lastAt).not.toBeNull();
  await pass(1);
  expect(told.made).toHaveLength(2);
});

test('at the end what is in no copy is copied; a slow stick holds the end up for three seconds', async () => {
  const fast = setUp();
  fast.told.changes = 1;
  await fast.backingUp.stop();
  expect([fast.told.made.length, fast.told.stopped]).toEqual([1, true]);
  expect(fast.scheduler.waiting()).toEqual([]);

  const copied = setUp();
  await copied.pass(6);
  await copied.backingUp.stop();
  expect(copied.told.made, 'nothing new').toHaveLength(1);

  const slow = setUp();
  slow.told.held = [];
  const stopping = slow.backingUp.stop();
  let isOver = false;
  void stopping.then(() => (isOver = true));
  slow.scheduler.advance(second(2.9));
  for (let n = 0; n < 10; n += 1) await Promise.resolve();
  expect(isOver).toBe(false);
  slow.scheduler.advance(second(0.2));
  await stopping;
  expect(slow.told.stopped).toBe(true);
  expect(slow.scheduler.waiting()).toEqual([]);

  const stuck = setUp(null);
  stuck.backingUp.port!.stop = () => new Promise(() => undefined);
  const ending = stuck.backingUp.stop();
  for (let n = 0; n < 20; n += 1) await Promise.resolve();
  stuck.scheduler.advance(second(1));
  await ending;
});

test('records that were replaced are not copied before the new start', async () => {
  const { told, pass, backingUp } = setUp();
  await pass(6);
  backingUp.replaced();
  told.changes += 1;
  await pass(120);
  await backingUp.stop();
  expect(told.made).toHaveLength(1);
});

test('over the contract: a folder is chosen, copied to, and refused in words', async () => {
  const { told, its } = port(() => 0);
  const started = startPracticeBench({ dir: temporaryFolder(), source: 'bluetooth', copies: its });
  onTestFinished(() => started.stop());
  const { screen, run } = started;
  const refusal = (promise: Promise<unknown>): Promise<string> =>
    promise.then(
      () => 'done',
      (error: unknown) => (error instanceof RefusedError ? error.message : String(error)),
    );
  expect(screen.state.copies).toMatchObject({ isAvailable: true, folder: null });
  expect(await refusal(screen.command({ do: 'copy now' }))).toBe(
    'No folder for copies is chosen. Choose one first.',
  );
  expect(await refusal(screen.command({ do: 'choose copy folder', folder: '/gone' }))).toBe(
    'The folder is not there. Plug the stick in, or choose another folder.',
  );
  expect(await screen.command({ do: 'choose copy folder', folder: '/stick' })).toEqual({
    is: 'copy folder',
    free: 1e9,
  });
  await run(0.2);
  expect(screen.state.copies.folder).toBe('/stick');
  expect(screen.state.settings.copyFolder).toBe('/stick');
  expect(await screen.command({ do: 'copy now' })).toEqual({
    is: 'copied',
    name: 'copy 1',
    isNew: true,
  });
  const none = screen.command({ do: 'choose copy folder', folder: null });
  expect(await none).toEqual({ is: 'copy folder', free: null });
  const at = { folder: '/stick', name: 'millpond-20260131T120500Z-pit.db' };
  expect(await refusal(screen.command({ do: 'restore copy', ...at }))).toBe(
    'This copy is damaged. Choose another; nothing was changed.',
  );
  expect(await screen.command({ do: 'join records', ...at })).toMatchObject({
    is: 'joined',
    setAside: null,
  });
  expect(told.starts, 'nothing came, nothing to start again for').toBe(0);
  const theirs = { folder: '/stick', name: 'millpond.db' };
  expect(await screen.command({ do: 'join records', ...theirs })).toMatchObject({
    setAside: 'millpond-aside.db',
  });
  expect(told.starts).toBe(1);
  expect(await screen.command({ do: 'restore copy', ...theirs })).toEqual({
    is: 'restored',
    captures: 3,
    records: 40,
    setAside: 'millpond-aside.db',
  });
  expect(told.starts).toBe(2);
});

test('where the records could not be opened, every command says so', async () => {
  const started = startPracticeBench({ dir: temporaryFolder(), source: 'bluetooth' });
  onTestFinished(() => started.stop());
  const { screen } = started;
  expect(screen.state.copies.isAvailable).toBe(false);
  for (const command of [
    { do: 'copy now' },
    { do: 'choose copy folder', folder: '/stick' },
    { do: 'list copies', folder: null },
    { do: 'restore copy', folder: null, name: 'millpond.db' },
  ] as const)
    await expect(screen.command(command)).rejects.toThrow('The records could not be opened');
});
