import { fork, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { pushSchema, type Push, type Request } from '../../core/contract/messages.ts';
import { DEFAULT_SETTINGS } from '../../core/contract/settings.ts';
import { createBenchSupervisor, type BenchSupervisor } from '../../electron/benchSupervisor.ts';
import { createRealScheduler } from '../../electron/clock.ts';
import { createForkBench } from '../../electron/forkBench.ts';
import { createGate } from '../../electron/gate.ts';

/** The real bench process on the practice rig and a real database, as the local page starts it. */

const entry = path.join(import.meta.dirname, '../../electron/benchProcess.ts');
/** A start costs half a second on a quiet machine; a busy one may take ten times that. */
const LIMIT_MS = 20_000;

let dir = '';
beforeEach(() => {
  dir = mkdtempSync(path.join(os.tmpdir(), 'millpond-bench-'));
});
afterEach(() => {
  rmSync(dir, { recursive: true });
});

describe('under the supervisor', () => {
  const scheduler = createRealScheduler();
  let supervisor: BenchSupervisor;
  let lines: string[];
  let kill: () => void;

  beforeEach(() => {
    lines = [];
    const args = ['--data', dir, '--pads', 'rig', '--seed', '1'];
    const spawn = createForkBench(entry, args);
    supervisor = createBenchSupervisor({
      spawn: (options, listener) => {
        const child = spawn(options, listener);
        kill = child.kill;
        return child;
      },
      scheduler,
      gate: createGate((line) => lines.push(line)),
      log: (line) => lines.push(line),
    });
  });
  afterEach(async () => {
    await supervisor.stop();
    const left = scheduler.waiting();
    if (left.length > 0) throw new Error(`timers were left running: ${left.join(', ')}`);
  });

  /** A screen that takes its frames and can wait for a push. */
  const joinScreen = () => {
    const watchers = new Set<(push: Push) => void>();
    const link = supervisor.join((text) => {
      const push = pushSchema.parse(JSON.parse(text));
      if (push.kind === 'frame') say({ kind: 'frame taken', no: push.frame.no });
      for (const look of watchers) look(push);
    });
    const say = (request: Request): void => link.receive(JSON.stringify(request));
    const next = <P extends Push>(holds: (push: Push) => push is P): Promise<P> =>
      new Promise((resolve) => {
        const look = (push: Push): void => {
          if (!holds(push)) return;
          watchers.delete(look);
          resolve(push);
        };
        watchers.add(look);
      });
    say({ kind: 'hello', version: 1 });
    return { say, next };
  };

  type State = Extract<Push, { kind: 'state' }>;
  type Frame = Extract<Push, { kind: 'frame' }>;
  const isState = (push: Push): push is State => push.kind === 'state';
  const isLive = (push: Push): push is Frame =>
    push.kind === 'frame' &&
    Object.values(push.frame.corners).every(({ status }) => status === 'live');

  test(
    'hello brings the state, four corners go live, and a crash loses nothing stored',
    async () => {
      const screen = joinScreen();
      const { state } = await screen.next(isState);
      expect(state.source).toBe('rig');
      expect(state.faults.map(({ code }) => code)).not.toContain('bench-restarted');
      await screen.next(isLive);

      const settings = { ...DEFAULT_SETTINGS, massUnit: 'lb' } as const;
      const done = screen.next((push): push is Extract<Push, { kind: 'done' }> => {
        return push.kind === 'done' && push.n === 5;
      });
      screen.say({ kind: 'command', n: 5, command: { do: 'change settings', settings } });
      await done;

      // The same screen, joined by nobody but the supervisor, is told of it and goes live again.
      const told = screen.next((push): push is State => {
        return isState(push) && push.state.faults.some(({ code }) => code === 'bench-restarted');
      });
      kill();
      const again = await told;
      expect(again.state.settings).toEqual(settings);
      expect(again.state.outing).toEqual(state.outing);
      await screen.next(isLive);
      expect(lines).toEqual([
        'the measuring process ended (SIGKILL); it is started again in 0.25 s',
      ]);
    },
    LIMIT_MS * 2,
  );
});

describe('by itself', () => {
  const start = (args: readonly string[]): ChildProcess =>
    fork(entry, [...args], { execArgv: [], stdio: ['ignore', 'ignore', 'pipe', 'ipc'] });
  const ended = (child: ChildProcess): Promise<unknown> =>
    new Promise((resolve) => child.once('exit', (code, signal) => resolve(signal ?? code)));
  const ready = (child: ChildProcess): Promise<void> =>
    new Promise((resolve, reject) => {
      child.on('message', (message) => {
        if (JSON.stringify(message) === '{"kind":"ready"}') resolve();
      });
      child.once('exit', (code) => reject(new Error(`ended with ${code}`)));
    });
  const args = (): readonly string[] => ['--data', dir, '--pads', 'rig', '--seed', '2'];

  // Windows has no such signals to send: there the parent's word and its going are the ways.
  test.runIf(process.platform !== 'win32').each(['SIGTERM', 'SIGINT', 'SIGHUP'] as const)(
    '%s ends it cleanly',
    async (signal) => {
      const child = start(args());
      await ready(child);
      const end = ended(child);
      child.kill(signal);
      expect(await end).toBe(0);
    },
    LIMIT_MS,
  );

  test(
    'a parent that is gone ends it cleanly, and the folder is free again',
    async () => {
      const child = start(args());
      await ready(child);
      const end = ended(child);
      child.disconnect();
      expect(await end).toBe(0);

      const next = start(args());
      await ready(next);
      const nextEnd = ended(next);
      next.send({ kind: 'stop' });
      expect(await nextEnd).toBe(0);
    },
    LIMIT_MS,
  );

  test(
    'a flag that is not known is refused with its reason',
    async () => {
      const child = start(['--wheels']);
      let said = '';
      child.stderr?.on('data', (piece: Buffer) => (said += piece.toString()));
      // All that it printed is there only when its pipe is closed.
      const closed = new Promise((resolve) => child.once('close', (code) => resolve(code)));
      expect(await closed).toBe(2);
      expect(said).toBe('bench: --wheels is not known. Try --help.\n');
    },
    LIMIT_MS,
  );
});
