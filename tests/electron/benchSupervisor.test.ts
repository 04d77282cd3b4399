import { beforeEach, describe, expect, test } from 'vitest';
import { CONTRACT_VERSION, pushSchema, type Request } from '../../core/contract/messages.ts';
import { createDrivenScheduler, type DrivenScheduler } from '../../core/scheduler.ts';
import { second } from '../../core/units.ts';
import {
  createBenchSupervisor,
  restartDelays,
  type BenchChildListener,
  type BenchSupervisor,
} from '../../electron/benchSupervisor.ts';
import { createGate, type FromBench, type ToBench } from '../../electron/gate.ts';

/** A bench process that only notes what it is sent; the test speaks and ends for it. */
interface FakeChild {
  readonly restarted: boolean;
  readonly got: ToBench[];
  killed: boolean;
  says(message: FromBench): void;
  saysAnything(message: unknown): void;
  ends(how?: string): void;
}

let scheduler: DrivenScheduler;
let lines: string[];
let children: FakeChild[];
let supervisor: BenchSupervisor;
/** Set to make the next process fail to start at all. */
let failsToStart: boolean;

const child = (n: number): FakeChild => {
  const found = children[n];
  if (!found) throw new Error(`process ${n} was not started`);
  return found;
};

beforeEach(() => {
  scheduler = createDrivenScheduler();
  lines = [];
  children = [];
  failsToStart = false;
  supervisor = createBenchSupervisor({
    scheduler,
    gate: createGate((line) => lines.push(line)),
    log: (line) => lines.push(line),
    spawn: ({ restarted }, listener: BenchChildListener) => {
      const made: FakeChild = {
        restarted,
        got: [],
        killed: false,
        says: listener.message,
        saysAnything: listener.message,
        ends: (how = 'code 1') => listener.exited(how),
      };
      children.push(made);
      if (failsToStart) listener.exited('no such program');
      return { send: (message) => made.got.push(message), kill: () => (made.killed = true) };
    },
  });
});

const text = (request: Request): string => JSON.stringify(request);
const hello = text({ kind: 'hello', version: CONTRACT_VERSION });
const hidden = text({ kind: 'visible', visible: false });
const shown = text({ kind: 'visible', visible: true });
const taken = text({ kind: 'frame taken', no: 7 });
const zero = (n: number): string => text({ kind: 'command', n, command: { do: 'zero' } });
const done = (n: number): string => JSON.stringify({ kind: 'done', n, result: { is: 'done' } });

/** A screen, and what it was told; refusals as their number and reason. */
const joinScreen = () => {
  const told: string[] = [];
  const link = supervisor.join((push) => told.push(push));
  return { ...link, told };
};

const refusals = (told: readonly string[]) =>
  told.flatMap((push) => {
    const parsed = pushSchema.parse(JSON.parse(push));
    return parsed.kind === 'refused' ? [[parsed.n, parsed.refusal.why]] : [];
  });

const restart = (n: number): void => {
  child(n).ends();
  scheduler.advance(second(8));
  child(n + 1).says({ kind: 'ready' });
};

describe('relays', () => {
  test('between each screen and the bench, by number', () => {
    child(0).says({ kind: 'ready' });
    const [one, other] = [joinScreen(), joinScreen()];
    one.receive(hello);
    other.receive(hello);
    child(0).says({ kind: 'text', screen: 2, text: '{"kind":"frame"}' });
    one.leave();
    child(0).says({ kind: 'text', screen: 1, text: '{"kind":"frame"}' });
    one.receive(hello);
    expect(child(0).got).toEqual([
      { kind: 'join', screen: 1 },
      { kind: 'join', screen: 2 },
      { kind: 'text', screen: 1, text: hello },
      { kind: 'text', screen: 2, text: hello },
      { kind: 'leave', screen: 1 },
    ]);
    expect([one.told, other.told]).toEqual([[], ['{"kind":"frame"}']]);
  });

  test('what came before the bench was ready: screens, hello, commands in order; no acknowledgements', () => {
    const screen = joinScreen();
    for (const each of [hello, zero(1), taken, hidden, zero(2)]) screen.receive(each);
    expect(child(0).got).toEqual([]);
    child(0).says({ kind: 'ready' });
    expect(child(0).got).toEqual([
      { kind: 'join', screen: 1 },
      { kind: 'text', screen: 1, text: hello },
      { kind: 'text', screen: 1, text: hidden },
      { kind: 'text', screen: 1, text: zero(1) },
      { kind: 'text', screen: 1, text: zero(2) },
    ]);
  });

  test('nothing that the gate does not know', () => {
    child(0).says({ kind: 'ready' });
    const screen = joinScreen();
    child(0).saysAnything({ kind: 'text', screen: 1, text: 5 });
    child(0).saysAnything('ready');
    expect(screen.told).toEqual([]);
    expect(lines.filter((line) => line.startsWith('refused a message'))).toHaveLength(2);
  });

  test('a refusal by the contract goes to the log', () => {
    child(0).says({ kind: 'ready' });
    child(0).says({ kind: 'refused', screen: 3, why: 'not understood' });
    expect(lines).toEqual(['the bench refused a message of screen 3: not understood']);
  });
});

describe('after a crash', () => {
  test('the process is started anew and says so, and screens are joined again', () => {
    child(0).says({ kind: 'ready' });
    const screen = joinScreen();
    for (const each of [hello, hidden, shown, taken]) screen.receive(each);
    expect(child(0).restarted).toBe(false);
    child(0).ends('SIGSEGV');
    expect(lines).toEqual(['the measuring process ended (SIGSEGV); it is started again in 0.25 s']);
    scheduler.advance(second(0.249));
    expect(children).toHaveLength(1);
    scheduler.advance(second(0.001));
    expect(child(1).restarted).toBe(true);
    expect(child(1).got).toEqual([]);
    child(1).says({ kind: 'ready' });
    expect(child(1).got).toEqual([
      { kind: 'join', screen: 1 },
      { kind: 'text', screen: 1, text: hello },
      { kind: 'text', screen: 1, text: shown },
    ]);
    child(1).says({ kind: 'text', screen: 1, text: '{"kind":"state"}' });
    expect(screen.told).toEqual(['{"kind":"state"}']);
  });

  test('commands without an answer are refused, once, and not repeated; answered ones are not', () => {
    child(0).says({ kind: 'ready' });
    const [one, other] = [joinScreen(), joinScreen()];
    for (const n of [1, 2, 3]) one.receive(zero(n));
    other.receive(zero(1));
    child(0).says({ kind: 'text', screen: 1, text: done(2) });
    child(0).ends();
    // Given while it is down: kept for the next, which crashes before it is ready.
    one.receive(zero(4));
    expect(refusals(one.told)).toEqual([
      [1, 'The measuring process restarted.'],
      [3, 'The measuring process restarted.'],
    ]);
    scheduler.advance(second(0.25));
    child(1).ends();
    expect(refusals(one.told).map(([n]) => n)).toEqual([1, 3, 4]);
    scheduler.advance(second(0.5));
    child(2).says({ kind: 'ready' });
    expect(child(2).got).toEqual([
      { kind: 'join', screen: 1 },
      { kind: 'join', screen: 2 },
    ]);
    expect(refusals(other.told)).toEqual([[1, 'The measuring process restarted.']]);
  });

  test('an answer is known however its keys are ordered', () => {
    child(0).says({ kind: 'ready' });
    const screen = joinScreen();
    screen.receive(zero(9));
    child(0).says({
      kind: 'text',
      screen: 1,
      text: '{"result":{"is":"done"},"n":9,"kind":"done"}',
    });
    child(0).ends();
    expect(refusals(screen.told.slice(1))).toEqual([]);
  });

  test('commands that pile up are refused, not kept', () => {
    const screen = joinScreen();
    for (let n = 1; n <= 70; n++) screen.receive(zero(n));
    expect(refusals(screen.told).map(([n]) => n)).toEqual([65, 66, 67, 68, 69, 70]);
    expect(refusals(screen.told)[0]?.[1]).toContain('Too many');
    child(0).says({ kind: 'ready' });
    expect(child(0).got).toHaveLength(1 + 64);
    child(0).says({ kind: 'text', screen: 1, text: done(1) });
    screen.receive(zero(71));
    expect(child(0).got).toHaveLength(1 + 65);
  });

  test('waits double up to a limit, and are short again after a steady run', () => {
    const waits: number[] = [];
    const crash = (): void => {
      const before = scheduler.now();
      const started = children.length;
      child(started - 1).ends();
      while (children.length === started) scheduler.advance(second(0.25));
      waits.push(scheduler.now() - before);
    };
    for (let n = 0; n < 8; n++) crash();
    child(children.length - 1).says({ kind: 'ready' });
    scheduler.advance(second(60));
    crash();
    expect(waits).toEqual([0.25, 0.5, 1, 2, 4, 8, 8, 8, 0.25]);
    const delays = restartDelays();
    expect(Array.from({ length: 8 }, () => delays.next().value)).toEqual(waits.slice(0, 8));
  });

  test('a process that cannot be started at all is tried again', () => {
    failsToStart = true;
    child(0).ends();
    scheduler.advance(second(0.25));
    expect(children).toHaveLength(2);
    failsToStart = false;
    scheduler.advance(second(0.5));
    child(2).says({ kind: 'ready' });
    const screen = joinScreen();
    screen.receive(hello);
    expect(child(2).got).toHaveLength(2);
  });

  test('what the dead still say is not heard', () => {
    child(0).says({ kind: 'ready' });
    const screen = joinScreen();
    restart(0);
    child(0).says({ kind: 'text', screen: 1, text: 'late' });
    child(0).ends();
    expect([screen.told, children.length]).toEqual([[], 2]);
  });

  test('a process that is never ready is ended, and the next one started', () => {
    scheduler.advance(second(29.9));
    expect(child(0).killed).toBe(false);
    scheduler.advance(second(0.1));
    expect(child(0).killed).toBe(true);
    child(0).ends('SIGKILL');
    scheduler.advance(second(0.25));
    expect(children).toHaveLength(2);
  });

  test('one that is ready is not ended for it', () => {
    child(0).says({ kind: 'ready' });
    scheduler.advance(second(600));
    expect(child(0).killed).toBe(false);
    expect(scheduler.waiting()).toEqual([]);
  });
});

describe('stopping', () => {
  const settled = async (promise: Promise<void>): Promise<boolean> => {
    let is = false;
    void promise.then(() => (is = true));
    for (let n = 0; n < 5; n++) await Promise.resolve();
    return is;
  };

  test('asks, waits for the end, and starts nothing again', async () => {
    child(0).says({ kind: 'ready' });
    const stopped = supervisor.stop();
    expect(supervisor.stop()).toBe(stopped);
    expect(child(0).got).toEqual([{ kind: 'stop' }]);
    expect(await settled(stopped)).toBe(false);
    child(0).ends('code 0');
    expect(await settled(stopped)).toBe(true);
    expect([scheduler.waiting(), child(0).killed]).toEqual([[], false]);
    scheduler.advance(second(60));
    expect(children).toHaveLength(1);
  });

  test('ends by force what does not stop', async () => {
    const stopped = supervisor.stop();
    scheduler.advance(second(8));
    expect(child(0).killed).toBe(true);
    expect(await settled(stopped)).toBe(true);
    child(0).ends('SIGKILL');
    scheduler.advance(second(60));
    expect([children.length, scheduler.waiting()]).toEqual([1, []]);
  });

  test('while waiting to start anew', async () => {
    child(0).ends();
    expect(await settled(supervisor.stop())).toBe(true);
    scheduler.advance(second(60));
    expect([children.length, scheduler.waiting()]).toEqual([1, []]);
  });
});
