import { ChildProcess } from 'node:child_process';
import { Server, Socket } from 'node:net';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll } from 'vitest';

/**
 * Whatever starts must stop: a file of tests fails when it leaves a timer, a server, a connection or
 * a child process alive. Loaded before each file, so the runner's own are not counted.
 */

/** What is being closed gets this long to be gone; common practice, no source. */
const GRACE_MS = 1000;

/** Timers that were set and have neither fired nor been cleared, each with where it was set. */
const timers = new Map<NodeJS.Timeout, string>();

const whereSet = (): string => {
  const frames = (new Error().stack ?? '').split('\n').slice(1);
  const frame = frames.find((line) => !/node_modules|node:|failOnLeaks|<anonymous>/.test(line));
  const file = /\(?(?:file:\/\/)?([^\s()]+:\d+):\d+\)?$/.exec(frame ?? '')?.[1];
  return file === undefined ? 'a package' : path.relative(process.cwd(), file);
};

type Run = (...values: unknown[]) => void;

const watchSetting = <Set extends typeof setTimeout | typeof setInterval>(
  set: Set,
  name: string,
  firesOnce: boolean,
): Set =>
  new Proxy(set, {
    apply: (target, self, args: [Run, ...unknown[]]) => {
      const [run, ...rest] = args;
      const fire: Run = (...values) => {
        if (firesOnce) timers.delete(timer);
        run(...values);
      };
      const timer = Reflect.apply(target, self, [fire, ...rest]) as NodeJS.Timeout;
      timers.set(timer, `${name} at ${whereSet()}`);
      return timer;
    },
  });

const watchClearing = <Clear extends typeof clearTimeout>(clear: Clear): Clear =>
  new Proxy(clear, {
    apply: (target, self, args: [unknown]) => {
      timers.delete(args[0] as NodeJS.Timeout);
      return Reflect.apply(target, self, args) as void;
    },
  });

globalThis.setTimeout = watchSetting(globalThis.setTimeout, 'setTimeout', true);
globalThis.setInterval = watchSetting(globalThis.setInterval, 'setInterval', false);
globalThis.clearTimeout = watchClearing(globalThis.clearTimeout);
globalThis.clearInterval = watchClearing(globalThis.clearInterval);

/** Node's list of what keeps it running; it has no public name for the objects themselves. */
const activeHandles = (): readonly unknown[] =>
  (process as unknown as { _getActiveHandles(): unknown[] })._getActiveHandles();

const before = new Set(activeHandles());

const nameHandle = (handle: unknown): string | null => {
  if (handle instanceof ChildProcess)
    return `child process ${handle.pid}: ${handle.spawnargs.join(' ')}`;
  if (handle instanceof Server) return `server on ${JSON.stringify(handle.address())}`;
  if (handle instanceof Socket)
    return handle.remotePort === undefined ? null : `connection to port ${handle.remotePort}`;
  return null;
};

/** By name, all that is alive and was not when the file began. */
const leaks = (): readonly string[] => [
  ...[...timers].filter(([timer]) => timer.hasRef()).map(([, name]) => name),
  ...activeHandles()
    .filter((handle) => !before.has(handle))
    .map(nameHandle)
    .filter((name) => name !== null),
];

afterAll(async () => {
  const deadline = performance.now() + GRACE_MS;
  while (leaks().length > 0 && performance.now() < deadline) await pause(10);
  const left = leaks();
  if (left.length > 0) throw new Error(`left alive:\n  ${left.join('\n  ')}`);
});
