import { once } from 'node:events';
import { request } from 'node:http';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { WebSocket } from 'ws';
import type { GuestPort } from '../../core/bench/ports.ts';
import { guestPushSchema } from '../../core/contract/guestView.ts';
import { createDrivenScheduler, type DrivenScheduler } from '../../core/scheduler.ts';
import { second } from '../../core/units.ts';
import { guestPolicy } from '../../electron/security.ts';
import { exampleGuestView } from '../renderer/harness/exampleGuestView.ts';
import { testGuests } from '../support/testGuests.ts';
import { temporaryFolder } from '../support/temporaryFolder.ts';
import { ask, connect, cookieFrom, nextMessage, type Told } from './ask.ts';
import { writeBuiltPage } from './builtPage.ts';

/** The real port for guests on loopback: who comes in, what they are sent, and that nothing comes back. */

let scheduler: DrivenScheduler;
let guests: GuestPort;
let lines: string[];
let changes: number;
const open: WebSocket[] = [];

beforeEach(async () => {
  scheduler = createDrivenScheduler();
  lines = [];
  changes = 0;
  let ids = 0;
  guests = testGuests({
    scheduler,
    folder: writeBuiltPage(temporaryFolder()),
    newId: () => `guest-${(ids += 1)}`,
    wallClock: () => 1000 + scheduler.now(),
    log: (line) => lines.push(line),
  });
  guests.onChange(() => void (changes += 1));
  expect(await guests.open()).toEqual({ ok: true });
});
afterEach(async () => {
  for (const socket of open.splice(0)) socket.terminate();
  await guests.close();
  expect(scheduler.waiting()).toEqual([]);
});

interface Invited {
  readonly id: string;
  readonly code: string;
  readonly port: number;
  readonly host: string;
  readonly origin: string;
}
const invite = (name = 'Phone 1'): Invited => {
  const invited = guests.invite(name);
  if (!invited.ok) throw new Error(invited.why);
  const url = new URL(invited.codes[0]!.url);
  return {
    id: invited.id,
    code: url.hash.slice(1),
    port: Number(url.port),
    host: url.host,
    origin: url.origin,
  };
};

const post = (
  { port, host, origin }: Invited,
  body: string,
  headers: Readonly<Record<string, string>> = {},
): Promise<Told> =>
  new Promise((resolve, reject) => {
    const sent = request(
      {
        host: '127.0.0.1',
        port,
        path: '/join',
        method: 'POST',
        agent: false,
        headers: { host, origin, ...headers },
      },
      (response) => {
        let text = '';
        response.on('data', (piece: Buffer) => (text += piece.toString()));
        response.on('end', () =>
          resolve({ status: response.statusCode ?? 0, headers: response.headers, body: text }),
        );
      },
    );
    sent.on('error', reject);
    sent.end(body);
  });

const join = async (guest = invite()): Promise<Invited & { readonly cookie: string }> => {
  const told = await post(guest, guest.code);
  expect(told.status).toBe(204);
  return { ...guest, cookie: cookieFrom(told) };
};

const follow = async (
  { port, host, origin, cookie }: Awaited<ReturnType<typeof join>>,
  headers: Readonly<Record<string, string>> = {},
): Promise<WebSocket | number> => {
  const socket = await connect(port, '/view', { host, origin, cookie, ...headers });
  if (typeof socket !== 'number') open.push(socket);
  return socket;
};
const followed = async (guest: Awaited<ReturnType<typeof join>>): Promise<WebSocket> => {
  const socket = await follow(guest);
  if (typeof socket === 'number') throw new Error(`refused ${socket}`);
  return socket;
};
const closed = async (socket: WebSocket): Promise<number> => {
  const [code] = (await once(socket, 'close')) as [number];
  return code;
};

describe('joining', () => {
  test('by a code: once, for a cookie that no script reads', async () => {
    const guest = invite();
    expect(guest.code).toMatch(/^[\w-]{22}$/);
    expect(guests.state().guests).toEqual([
      { id: 'guest-1', name: 'Phone 1', joinedAt: null, seenAt: null, isHere: false },
    ]);
    const told = await post(guest, guest.code);
    expect(told.status).toBe(204);
    expect(told.headers['set-cookie']?.[0]).toMatch(
      /^millpond-guest-[0-9a-f]{12}=[\w-]{22}; Path=\/; HttpOnly; SameSite=Strict; Max-Age=86400$/,
    );
    expect(guests.state().guests).toMatchObject([{ joinedAt: 1000, isHere: false }]);
    const again = await post(guest, guest.code);
    expect([again.status, again.headers['set-cookie']]).toEqual([401, undefined]);
    const cookie = cookieFrom(told);
    const { port, host } = guest;
    expect((await ask(port, '/here', { headers: { host, cookie } })).status).toBe(204);
    expect((await ask(port, '/here', { headers: { host } })).status).toBe(401);
    // Neither code nor token is a line of the log, an address or a cookie's name.
    const token = cookie.split('=')[1] ?? '';
    expect(lines.filter((line) => line.includes(guest.code) || line.includes(token))).toEqual([]);
  });

  test.each([
    ['a wrong code', 'x'.repeat(22)],
    ['an empty one', ''],
    ['the name of the guest', 'Phone 1'],
  ])('%s', async (_name, code) => {
    const guest = invite();
    expect((await post(guest, code)).status).toBe(401);
    expect(guests.state().guests).toMatchObject([{ joinedAt: null }]);
  });

  test('a body without end is not waited for', async () => {
    const guest = invite();
    const told = await post(guest, 'x'.repeat(100_000)).catch(() => null);
    expect(told?.status ?? 'cut off').toBeOneOf([401, 'cut off']);
    expect((await ask(guest.port, '/', { headers: { host: guest.host } })).status).toBe(200);
  });

  test.each([
    ['another origin', { origin: 'http://evil.example' }, 403],
    ['a name bound to us', { host: 'evil.example' }, 421],
  ])(
    'with the right code from %s: refused, and the code stays good',
    async (_n, headers, status) => {
      const guest = invite();
      expect((await post(guest, guest.code, headers)).status).toBe(status);
      expect((await post(guest, guest.code)).status).toBe(204);
    },
  );

  test('ten tries a minute', async () => {
    const guest = invite();
    for (let tries = 0; tries < 10; tries += 1)
      expect((await post(guest, 'x'.repeat(22))).status).toBe(401);
    expect((await post(guest, guest.code)).status).toBe(429);
    scheduler.advance(second(60));
    expect((await post(guest, guest.code)).status).toBe(204);
  });

  test('a code that nobody used is replaced by the next of its name; twelve are let in', () => {
    const { id } = invite();
    invite();
    expect(guests.state().guests.map((each) => each.id)).not.toContain(id);
    for (let number = 2; number <= 12; number += 1) invite(`Phone ${number}`);
    expect(guests.invite('Phone 13')).toEqual({ ok: false, why: 'too many' });
  });
});

describe('the page', () => {
  test('comes with its policy, is not kept, and only its own files are there', async () => {
    const { port, host } = invite();
    const page = await ask(port, '/', { headers: { host } });
    expect(page.status).toBe(200);
    expect(page.headers).toMatchObject({
      'content-security-policy': guestPolicy(host),
      'cache-control': 'no-store',
      'referrer-policy': 'no-referrer',
      'x-content-type-options': 'nosniff',
      'x-frame-options': 'DENY',
    });
    const script = await ask(port, '/assets/index-B1a2c3d4.js', { headers: { host } });
    expect([script.status, script.headers['cache-control']]).toEqual([200, 'no-store']);
    for (const path of ['/bench', '/linked.txt', '/.hidden', '/assets/../../secret.txt'])
      expect((await ask(port, path, { headers: { host } })).status, path).toBe(404);
  });
});

describe('the view', () => {
  test('one in flight, the newest wins; who has answered gets the next', async () => {
    const socket = await followed(await join());
    expect(guests.isWatched()).toBe(true);
    const first = nextMessage(socket);
    guests.show(exampleGuestView({ t: 1 }));
    guests.show(exampleGuestView({ t: 2 }));
    const [text] = await first;
    expect(guestPushSchema.parse(JSON.parse(text))).toEqual({
      no: 1,
      view: exampleGuestView({ t: 1 }),
    });
    const later: string[] = [];
    socket.on('message', (data: Buffer) => later.push(data.toString()));
    socket.send('1');
    await expect
      .poll(() => {
        guests.show(exampleGuestView({ t: 3 }));
        return later.length;
      })
      .toBe(1);
    expect(JSON.parse(later[0] ?? '')).toEqual({ no: 2, view: exampleGuestView({ t: 3 }) });
  });

  test.each<readonly [string, (socket: WebSocket) => void]>([
    ['a command', (socket) => socket.send('{"do":"zero"}')],
    ['a request of the contract', (socket) => socket.send('{"kind":"hello","version":1}')],
    ['the number again', (socket) => socket.send('1')],
    ['another number', (socket) => socket.send('2')],
    ['nothing', (socket) => socket.send('')],
    ['bytes', (socket) => socket.send(Buffer.from('2'))],
    ['a ping', (socket) => socket.ping()],
    ['a pong', (socket) => socket.pong()],
    ['too much', (socket) => socket.send('1'.repeat(10_000))],
  ])('%s ends it', async (_name, say) => {
    const socket = await followed(await join());
    const first = nextMessage(socket);
    guests.show(exampleGuestView());
    await first;
    socket.send('1');
    const over = closed(socket);
    say(socket);
    expect(await over).toBeOneOf([1008, 1009]);
    await expect.poll(() => guests.isWatched()).toBe(false);
  });

  test.each([
    ['without a cookie', { cookie: '' }, 401],
    ['with a wrong one', { cookie: `millpond-guest-${'0'.repeat(12)}=${'x'.repeat(22)}` }, 401],
    ['from another origin', { origin: 'http://evil.example' }, 403],
    ['by a name bound to us', { host: 'evil.example' }, 421],
  ])('%s: not let in', async (_name, headers, status) => {
    expect(await follow(await join(), headers)).toBe(status);
    expect(guests.isWatched()).toBe(false);
  });

  test('revoked: cut off at once, and not let in again', async () => {
    const guest = await join();
    const other = await join(invite('Phone 2'));
    const socket = await followed(guest);
    await followed(other);
    const over = closed(socket);
    expect(guests.revoke(guest.id)).toBe(true);
    expect(guests.state().guests).toMatchObject([{ name: 'Phone 2', isHere: true }]);
    // Before the farewell is over nothing more is sent to it.
    let heard = 0;
    socket.on('message', () => (heard += 1));
    guests.show(exampleGuestView());
    expect(await over).toBe(4401);
    expect(heard).toBe(0);
    expect(await follow(guest)).toBe(401);
    const { port, host, cookie } = guest;
    expect((await ask(port, '/here', { headers: { host, cookie } })).status).toBe(401);
    expect(guests.revoke(guest.id)).toBe(false);
  });

  test('a code that was taken back before anybody used it', async () => {
    const guest = invite();
    guests.revoke(guest.id);
    expect((await post(guest, guest.code)).status).toBe(401);
  });

  test('one screen a device: the newer one has it', async () => {
    const guest = await join();
    const older = await followed(guest);
    const over = closed(older);
    await followed(guest);
    expect(await over).toBe(4409);
    expect(guests.state().guests).toMatchObject([{ isHere: true }]);
  });

  test('who takes nothing for ten seconds is gone', async () => {
    const socket = await followed(await join());
    const over = closed(socket);
    guests.show(exampleGuestView());
    scheduler.advance(second(11));
    guests.show(exampleGuestView());
    await over;
    expect(guests.state().guests).toMatchObject([{ isHere: false }]);
  });

  test('who leaves is seen to leave', async () => {
    const socket = await followed(await join());
    const before = changes;
    socket.close();
    await expect.poll(() => guests.state().guests[0]?.isHere).toBe(false);
    expect(changes).toBeGreaterThan(before);
  });
});

describe('switched off', () => {
  test('the port is shut and everybody is cut off; on again, the joined come back', async () => {
    const guest = await join();
    const socket = await followed(guest);
    const over = closed(socket);
    await guests.close();
    await over;
    expect(guests.state()).toMatchObject({ isOn: false, guests: [{ isHere: false }] });
    await expect(ask(guest.port, '/')).rejects.toThrow('ECONNREFUSED');
    expect(guests.invite('Phone 2')).toEqual({ ok: false, why: 'shut' });

    await guests.open();
    const { port, host, origin } = invite('Phone 3');
    expect(await follow({ ...guest, port, host, origin })).not.toBeTypeOf('number');
  });

  test('opened and shut in one breath ends shut', async () => {
    await Promise.all([guests.close(), guests.open(), guests.close()]);
    expect(guests.state().isOn).toBe(false);
  });

  test('without its page it does not open', async () => {
    const bare = testGuests({
      scheduler,
      folder: temporaryFolder(),
      newId: () => 'id',
      wallClock: () => 0,
    });
    expect(await bare.open()).toEqual({ ok: false, why: 'not built' });
  });
});

test('codes are for the addresses that others reach, for its own where there are none', async () => {
  const networks = [
    { name: 'lo', address: '127.0.0.1', prefix: 8, isInternal: true },
    { name: 'wifi', address: '192.168.7.20', prefix: 24, isInternal: false },
    { name: 'cable', address: '10.0.0.2', prefix: 8, isInternal: false },
  ];
  const outward = testGuests({
    scheduler,
    folder: writeBuiltPage(temporaryFolder()),
    newId: () => 'id',
    wallClock: () => 0,
    networks: () => networks,
  });
  await outward.open();
  const invited = outward.invite('Phone 1');
  await outward.close();
  if (!invited.ok) throw new Error(invited.why);
  expect(invited.codes.map(({ network, url }) => [network, new URL(url).hostname])).toEqual([
    ['wifi', '192.168.7.20'],
    ['cable', '10.0.0.2'],
  ]);
});
