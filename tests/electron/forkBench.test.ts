import path from 'node:path';
import { expect, test } from 'vitest';
import type { ToBench } from '../../electron/gate.ts';
import { createForkBench } from '../../electron/forkBench.ts';

/** Real processes, the smallest there are: what the operating system does is what is tried here. */

const entry = path.join(import.meta.dirname, 'echoProcess.ts');

/** What a process said, one thing after the other, each awaited. */
const start = (restarted = false) => {
  const said: unknown[] = [];
  const watchers: (() => void)[] = [];
  const hear = (message: unknown): void => {
    said.push(message);
    for (const look of watchers.splice(0)) look();
  };
  const child = createForkBench(entry, ['--data', '/d'])(
    { restarted },
    { message: hear, exited: (how) => hear(`exited: ${how}`) },
  );
  const next = async (): Promise<unknown> => {
    while (said.length === 0) await new Promise<void>((resolve) => watchers.push(resolve));
    return said.shift();
  };
  return { child, next };
};

const say = (text: string): ToBench => ({ kind: 'text', screen: 1, text });

test('messages go both ways, with the arguments; it stops when asked', async () => {
  const { child, next } = start();
  expect(await next()).toEqual({ kind: 'ready' });
  child.send(say('{}'));
  const text = JSON.stringify(['{}', ['--data', '/d']]);
  expect(await next()).toEqual({ kind: 'text', screen: 1, text });
  child.send({ kind: 'stop' });
  expect(await next()).toBe('exited: code 0');
  // To a process that is gone: nothing happens.
  child.send(say('{}'));
  child.kill();
});

test('a restarted one is told so', async () => {
  const { child, next } = start(true);
  expect(await next()).toEqual({ kind: 'ready' });
  child.send(say('{}'));
  const text = JSON.stringify(['{}', ['--data', '/d', '--restarted']]);
  expect(await next()).toEqual({ kind: 'text', screen: 1, text });
  child.kill();
  expect(await next()).toBe('exited: SIGKILL');
});

test('a crash is heard with its code', async () => {
  const { child, next } = start();
  expect(await next()).toEqual({ kind: 'ready' });
  child.send(say('{"kind":"crash"}'));
  expect(await next()).toBe('exited: code 3');
});
