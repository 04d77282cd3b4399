import { spawn, type ChildProcessByStdio } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import type { Readable } from 'node:stream';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { pushSchema } from '../../core/contract/messages.ts';
import { needs } from '../support/needs.ts';
import { ask, connect, cookieFrom, nextMessage } from './ask.ts';

/** The whole local page as `npm start -- --page` runs it: host, bench process, rig and database. */

const root = path.join(import.meta.dirname, '../..');
const LIMIT_MS = 40_000;

const withBuiltPage = needs({
  has: existsSync(path.join(root, 'dist/renderer/index.html')),
  reason: 'dist/renderer is not built: npm test builds it first',
});

let dir = '';
beforeEach(() => {
  dir = mkdtempSync(path.join(os.tmpdir(), 'millpond-host-'));
});
afterEach(() => {
  rmSync(dir, { recursive: true });
});

type Host = ChildProcessByStdio<null, Readable, Readable>;

const start = (...flags: readonly string[]) => {
  const host: Host = spawn(process.execPath, [path.join(root, 'electron/pageHost.ts'), ...flags], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const printed = { out: '', err: '' };
  host.stdout.setEncoding('utf8').on('data', (piece: string) => (printed.out += piece));
  host.stderr.setEncoding('utf8').on('data', (piece: string) => (printed.err += piece));
  const ended = new Promise<unknown>((resolve) =>
    host.once('close', (code, signal) => resolve(signal ?? code)),
  );
  const address = new Promise<URL>((resolve, reject) => {
    host.stdout.on('data', () => {
      const found = /^Millpond is at (\S+)\n$/.exec(printed.out)?.[1];
      if (found !== undefined) resolve(new URL(found));
    });
    host.once('close', () => reject(new Error(`it ended: ${printed.err}`)));
  });
  // Looked at where it is awaited; a host that prints none is no failure by itself.
  address.catch(() => undefined);
  return { host, printed, ended, address };
};

withBuiltPage.describe('with the built page', () => {
  test(
    'prints one line, serves page and bench, keeps the cookie over a restart, ends cleanly',
    async () => {
      const flags = ['--page', '--data', dir, '--pads', 'rig', '--seed', '3'];
      const first = start(...flags, '--port', '0');
      const address = await first.address;
      const port = Number(address.port);
      const host = `127.0.0.1:${port}`;
      const cookie = cookieFrom(await ask(port, `/${address.search}`, { headers: { host } }));
      first.host.kill('SIGTERM');
      expect(await first.ended).toBe(process.platform === 'win32' ? 'SIGTERM' : 0);
      expect(first.printed.out).toBe(`Millpond is at ${address.href}\n`);

      const second = start(...flags, '--port', String(port));
      await second.address;
      const page = await ask(port, '/', { headers: { host, cookie } });
      expect(page.status).toBe(200);
      expect(page.body).toContain('csp-nonce');
      const socket = await connect(port, '/bench', { host, cookie, origin: `http://${host}` });
      if (typeof socket === 'number') throw new Error(`refused with ${socket}`);
      const heard = nextMessage(socket);
      socket.send('{"kind":"hello","version":1}');
      const [text] = await heard;
      expect(pushSchema.parse(JSON.parse(text))).toMatchObject({
        kind: 'state',
        state: { source: 'rig', faults: [] },
      });
      second.host.kill('SIGTERM');
      await second.ended;
    },
    LIMIT_MS,
  );
});

test(
  'what is wrong with the flags is one line, and nothing is started',
  async () => {
    const { printed, ended } = start('--port', 'eighty');
    expect(await ended).toBe(2);
    expect(printed).toEqual({
      out: '',
      err: '--port needs a number from 0 to 65535 (0 takes any free).\n',
    });
  },
  LIMIT_MS,
);
