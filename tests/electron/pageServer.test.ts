import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:http';
import os from 'node:os';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { WebSocket } from 'ws';
import { createDrivenScheduler, type DrivenScheduler } from '../../core/scheduler.ts';
import { second } from '../../core/units.ts';
import { createGate, MAX_SCREEN_TEXT } from '../../electron/gate.ts';
import { loadPageAssets, type PageAssets } from '../../electron/pageAssets.ts';
import { createPageDoor } from '../../electron/pageDoor.ts';
import { newSecret } from '../../electron/pageSecret.ts';
import { startPageServer, type PageServer } from '../../electron/pageServer.ts';
import { ask, connect, cookieFrom, nextMessage, type Told } from './ask.ts';
import { writeBuiltPage } from './builtPage.ts';

/** A bench that only notes what its screens do. */
class FakeBench {
  readonly sends: ((text: string) => void)[] = [];
  readonly received: string[] = [];
  left = 0;
  #watchers: (() => void)[] = [];
  join(send: (text: string) => void) {
    this.sends.push(send);
    this.#changed();
    return {
      receive: (text: string) => {
        this.received.push(text);
        this.#changed();
      },
      leave: () => {
        this.left += 1;
        this.#changed();
      },
    };
  }
  #changed(): void {
    for (const look of this.#watchers.splice(0)) look();
  }
  async until(holds: () => boolean): Promise<void> {
    while (!holds()) await new Promise<void>((resolve) => this.#watchers.push(resolve));
  }
}

const secret = newSecret();
const token = newSecret();
const hello = '{"kind":"hello","version":1}';

let dir = '';
let assets: PageAssets;
beforeAll(() => {
  dir = mkdtempSync(path.join(os.tmpdir(), 'millpond-page-'));
  assets = loadPageAssets(writeBuiltPage(dir));
});
afterAll(() => {
  rmSync(dir, { recursive: true });
});

let bench: FakeBench;
let scheduler: DrivenScheduler;
let lines: string[];
let server: PageServer;
let own: { host: string; origin: string; cookie: string };

const start = async (
  limits: { maxScreens?: number; maxBacklog?: number; port?: number } = {},
): Promise<PageServer> => {
  const { port = 0, ...rest } = limits;
  return startPageServer({
    assets,
    door: (host) => createPageDoor({ host, secret, token }),
    bench,
    gate: createGate((line) => lines.push(line)),
    scheduler,
    log: (line) => lines.push(line),
    port,
    ...rest,
  });
};

const letIn = async (port: number): Promise<typeof own> => {
  const host = `127.0.0.1:${port}`;
  const told = await ask(port, `/?token=${token}`, { headers: { host } });
  return { host, origin: `http://${host}`, cookie: cookieFrom(told) };
};

beforeEach(async () => {
  bench = new FakeBench();
  scheduler = createDrivenScheduler();
  lines = [];
  server = await start();
  own = await letIn(server.port);
});
afterEach(async () => {
  await server.close();
  const left = scheduler.waiting();
  if (left.length > 0) throw new Error(`timers were left running: ${left.join(', ')}`);
});

const open = async (
  options: { autoPong?: boolean } = {},
  port = server.port,
): Promise<WebSocket> => {
  const socket = await connect(port, '/bench', own, options);
  if (typeof socket === 'number') throw new Error(`refused with ${socket}`);
  return socket;
};

const closed = (socket: WebSocket): Promise<number> =>
  new Promise((resolve) => socket.once('close', (code: number) => resolve(code)));

describe('HTTP', () => {
  const page = (headers: Record<string, string>, url = '/'): Promise<Told> =>
    ask(server.port, url, { headers });

  test('the token is exchanged once, and the address left behind', async () => {
    const again = await page({ host: own.host }, `/?token=${token}`);
    expect(again.status).toBe(401);
    expect(again.headers['set-cookie']).toBeUndefined();
    expect(again.body).toContain('used already');
    const withCookie = await page({ host: own.host, cookie: own.cookie }, `/?token=${token}`);
    expect([withCookie.status, withCookie.headers.location]).toEqual([303, '/']);
  });

  test('the page comes with the cookie, with a new nonce each time', async () => {
    const nonces = new Set<string>();
    for (let n = 0; n < 3; n++) {
      const { status, headers, body } = await page({ host: own.host, cookie: own.cookie });
      expect(status).toBe(200);
      const nonce = /<meta property="csp-nonce" nonce="([^"]+)">/.exec(body)?.[1] ?? '';
      expect(nonce).toMatch(/^[A-Za-z0-9+/]{24}$/);
      expect(headers['content-security-policy']).toContain(`'nonce-${nonce}'`);
      expect(headers['content-security-policy']).not.toContain('unsafe');
      expect(body).not.toContain('__CSP_NONCE__');
      nonces.add(nonce);
    }
    expect(nonces.size).toBe(3);
  });

  test('the cookie works after a restart on the same port', async () => {
    const { port } = server;
    await server.close();
    server = await start({ port });
    expect((await page({ host: own.host, cookie: own.cookie })).status).toBe(200);
  });

  test('headers of an asset', async () => {
    const { status, headers, body } = await page(own, '/assets/index-B1a2c3d4.js');
    expect(status).toBe(200);
    expect(body).toBe('export {};');
    expect(headers).toMatchObject({
      'content-type': 'text/javascript; charset=utf-8',
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
      'cross-origin-opener-policy': 'same-origin',
      'cross-origin-resource-policy': 'same-origin',
      'cache-control': 'private, max-age=31536000, immutable',
      'content-length': '10',
    });
  });

  test('HEAD has no body', async () => {
    const told = await ask(server.port, '/', { method: 'HEAD', headers: own });
    expect([told.status, told.body]).toEqual([200, '']);
  });

  test('no cookie, wrong host, wrong origin: nothing of the page comes', async () => {
    const refused = await Promise.all([
      page({ host: own.host }),
      page({ ...own, host: 'evil.example' }),
      page({ ...own, host: `localhost:${server.port}` }),
      page({ ...own, origin: 'http://evil.example' }),
      page({ host: own.host }, '/assets/index-B1a2c3d4.js'),
    ]);
    expect(refused.map(({ status }) => status)).toEqual([401, 421, 421, 403, 401]);
    for (const { body } of refused) expect(body).not.toMatch(/script|export/);
  });

  test('another site’s link makes our own page ask again', async () => {
    const { status, body, headers } = await page({
      host: own.host,
      'sec-fetch-site': 'cross-site',
      'sec-fetch-mode': 'navigate',
      'sec-fetch-dest': 'document',
    });
    expect([status, headers['set-cookie']]).toEqual([200, undefined]);
    expect(body).toContain('content="0;url=/"');
    expect(body).not.toContain('script');
  });

  test.each([
    '/../secret.txt',
    '/assets/../../secret.txt',
    '/%2e%2e/secret.txt',
    '/..%2fsecret.txt',
    '/linked.txt',
    '/assets/index-B1a2c3d4.js.map',
  ])('no way out by %s', async (url) => {
    const told = await page(own, url);
    expect(told.status).toBe(404);
    expect(told.body).not.toContain('secret\n');
  });
});

describe('WebSocket', () => {
  test('carries text both ways, and a screen that goes has left', async () => {
    const socket = await open();
    socket.send(hello);
    await bench.until(() => bench.received.length > 0);
    expect(bench.received).toEqual([hello]);
    const heard = nextMessage(socket);
    bench.sends[0]?.('{"kind":"state"}');
    expect(await heard).toEqual(['{"kind":"state"}', false]);
    socket.close();
    await bench.until(() => bench.left === 1);
  });

  test.each<[string, string, Record<string, string>, number]>([
    ['no cookie', '/bench', { cookie: '' }, 401],
    ['a wrong cookie', '/bench', { cookie: 'millpond=x' }, 401],
    ['another origin', '/bench', { origin: 'http://evil.example' }, 403],
    ['an opaque origin', '/bench', { origin: 'null' }, 403],
    [
      'a name bound to this machine',
      '/bench',
      { host: 'evil.example', origin: 'http://evil.example' },
      421,
    ],
    ['another path', '/', {}, 404],
  ])('%s is refused before there is a socket', async (_what, url, headers, status) => {
    expect(await connect(server.port, url, { ...own, ...headers })).toBe(status);
    expect([bench.sends.length, server.screens()]).toEqual([0, 0]);
  });

  test('without an origin it is refused', async () => {
    const { host, cookie } = own;
    expect(await connect(server.port, '/bench', { host, cookie })).toBe(403);
  });

  test('too long a message closes the screen, unread', async () => {
    const socket = await open();
    socket.send(`{"kind":"${'x'.repeat(MAX_SCREEN_TEXT * 3)}"}`);
    expect(await closed(socket)).toBe(1009);
    await bench.until(() => bench.left === 1);
    expect(bench.received).toEqual([]);
  });

  test.each([
    ['no JSON', 'hello', 1008],
    ['JSON that is no object', '[]', 1008],
    ['more units than allowed in allowed bytes', `{"kind":"${'x'.repeat(MAX_SCREEN_TEXT)}"}`, 1008],
    ['bytes', Buffer.from(hello), 1003],
  ])('%s closes the screen', async (_what, message, code) => {
    const socket = await open();
    socket.send(message);
    socket.send(hello);
    expect(await closed(socket)).toBe(code);
    await bench.until(() => bench.left === 1);
    expect(bench.received).toEqual([]);
  });

  test('one screen too many is refused, and let in once another has gone', async () => {
    await server.close();
    server = await start({ maxScreens: 2, port: server.port });
    const first = await open();
    await open();
    expect(await connect(server.port, '/bench', own)).toBe(503);
    first.close();
    await bench.until(() => bench.left === 1);
    await open();
    expect(server.screens()).toBe(2);
  });

  test('a screen that does not read is dropped; one that reads is not', async () => {
    await server.close();
    server = await start({ maxBacklog: 200_000, port: server.port });
    const reader = await open();
    const text = 'x'.repeat(100_000);
    for (let n = 0; n < 20; n++) {
      const heard = nextMessage(reader);
      bench.sends[0]?.(text);
      await heard;
    }
    expect(bench.left).toBe(0);

    const idler = await open();
    idler.pause();
    // Beyond what the system itself takes for a socket that nobody reads.
    for (let n = 0; n < 200; n++) bench.sends[1]?.(text);
    await bench.until(() => bench.left === 1);
    expect(lines).toContain('a screen is dropped: it does not read');
    idler.terminate();
  });

  test('a screen that answers no ping is dropped; one that does is not', async () => {
    const deaf = await open({ autoPong: false });
    const pinged = new Promise((resolve) => deaf.once('ping', resolve));
    const lively = await open();
    const livelyPinged = new Promise((resolve) => lively.once('ping', resolve));
    scheduler.advance(second(15));
    await Promise.all([pinged, livelyPinged]);
    // Its pong went out before this, so it is there when this has arrived.
    lively.send(hello);
    await bench.until(() => bench.received.length === 1);
    const gone = closed(deaf);
    scheduler.advance(second(15));
    expect(await gone).toBe(1006);
    await bench.until(() => bench.left === 1);
    expect(server.screens()).toBe(1);
  });

  test('closing the server lets every screen leave', async () => {
    await open();
    await open();
    await server.close();
    await bench.until(() => bench.left === 2);
    expect(server.screens()).toBe(0);
  });
});

test('a busy port is the system’s own error', async () => {
  await expect(start({ port: server.port })).rejects.toMatchObject({ code: 'EADDRINUSE' });
});

// Only Linux answers on all of 127/8 without being set up to.
test.runIf(process.platform === 'linux')('it listens on its one address only', async () => {
  // Where 127.0.0.1 alone is taken, another loopback address has the port free still.
  const other = createServer();
  const taken = new Promise<string>((resolve) => {
    other.once('error', (error) => resolve(error.message));
    other.listen({ host: '127.0.0.2', port: server.port, exclusive: true }, () => resolve('free'));
  });
  expect(await taken).toBe('free');
  await new Promise((resolve) => other.close(resolve));
});
