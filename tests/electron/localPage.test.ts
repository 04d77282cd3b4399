import { mkdtempSync, rmSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import os from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { createDrivenScheduler, type DrivenScheduler } from '../../core/scheduler.ts';
import type { BenchChildListener } from '../../electron/benchSupervisor.ts';
import type { Flags } from '../../electron/flags.ts';
import { openLocalPage, USUAL_PORT, type LocalPage } from '../../electron/localPage.ts';
import { ask, connect, cookieFrom, nextMessage } from './ask.ts';
import { writeBuiltPage } from './builtPage.ts';

let dir = '';
let assetsDir = '';
let scheduler: DrivenScheduler;
let lines: string[];
/** Bench processes that run now: a page that could not be opened must leave none. */
let running: number;

beforeEach(() => {
  dir = mkdtempSync(path.join(os.tmpdir(), 'millpond-local-'));
  assetsDir = writeBuiltPage(dir);
  scheduler = createDrivenScheduler();
  lines = [];
  running = 0;
});
afterEach(() => {
  rmSync(dir, { recursive: true });
  const left = scheduler.waiting();
  if (running > 0 || left.length > 0)
    throw new Error(`left running: ${running} processes, timers ${left.join(', ')}`);
});

/** A bench process that echoes what its screens say, and ends when asked. */
const spawn = (_options: unknown, listener: BenchChildListener) => {
  running += 1;
  const end = (): void => {
    running -= 1;
    listener.exited('code 0');
  };
  queueMicrotask(() => listener.message({ kind: 'ready' }));
  return {
    send: (message: { kind: string; screen?: number; text?: string }) => {
      if (message.kind === 'stop') end();
      if (message.kind === 'text') listener.message(message);
    },
    kill: end,
  };
};

const open = (port: number | null): Promise<LocalPage> => {
  const flags: Flags = {
    page: true,
    dataDir: path.join(dir, 'data'),
    pads: null,
    recordingFile: null,
    port,
    seed: null,
  };
  return openLocalPage({ flags, assetsDir, spawn, scheduler, log: (line) => lines.push(line) });
};

const portOf = (address: string): number => Number(new URL(address).port);

const hold = (port: number): Promise<Server> =>
  new Promise((resolve, reject) => {
    const server = createServer();
    server.once('error', reject);
    server.listen({ host: '127.0.0.1', port, exclusive: true }, () => resolve(server));
  });
const release = (server: Server): Promise<void> =>
  new Promise((resolve) => server.close(() => resolve()));

test('address, token, page and bench, and the same cookie after a restart', async () => {
  const first = await open(0);
  expect(first.address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/\?token=[A-Za-z0-9_-]{43}$/);
  const port = portOf(first.address);
  const headers = { host: `127.0.0.1:${port}` };
  const letIn = await ask(port, `/${new URL(first.address).search}`, { headers });
  expect([letIn.status, letIn.headers.location]).toEqual([303, '/']);
  expect(letIn.headers['set-cookie']).toHaveLength(1);
  const cookie = cookieFrom(letIn);
  await first.close();

  const again = await open(port);
  expect(new URL(again.address).search).not.toBe(new URL(first.address).search);
  expect((await ask(port, '/', { headers: { ...headers, cookie } })).status).toBe(200);
  const origin = `http://127.0.0.1:${port}`;
  const socket = await connect(port, '/bench', { ...headers, cookie, origin });
  if (typeof socket === 'number') throw new Error(`refused with ${socket}`);
  const heard = nextMessage(socket);
  socket.send('{"kind":"hello","version":1}');
  expect(await heard).toEqual(['{"kind":"hello","version":1}', false]);
  await again.close();
});

test('the usual port, when busy, gives way to a free one', async () => {
  // It may be held by a Millpond that runs on this machine: then there is nothing left to hold.
  const holder = await hold(USUAL_PORT).catch(() => null);
  const page = await open(null);
  expect(portOf(page.address)).not.toBe(USUAL_PORT);
  expect(lines).toContain(`port ${USUAL_PORT} is busy; a free one is taken`);
  await page.close();
  if (holder) await release(holder);
});

test('a port that was asked for does not give way, and no bench is left behind', async () => {
  const holder = await hold(0);
  const address = holder.address();
  const port = typeof address === 'object' && address ? address.port : 0;
  await expect(open(port)).rejects.toThrow(
    `Port ${port} is busy: give another with --port, or none to have one found.`,
  );
  await release(holder);
});

test('a page that was not built starts nothing', async () => {
  assetsDir = path.join(dir, 'nowhere');
  await expect(open(0)).rejects.toThrow('cannot be read');
  expect(running).toBe(0);
});
