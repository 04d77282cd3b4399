import { expect, test } from 'vitest';
import { createGuestDoor, type GuestAsked } from '../../electron/guestDoor.ts';
import type { OwnNetwork } from '../../electron/ownNetworks.ts';

const NETWORKS: readonly OwnNetwork[] = [
  { name: 'lo', address: '127.0.0.1', prefix: 8, isInternal: true },
  { name: 'wifi', address: '192.168.7.20', prefix: 24, isInternal: false },
];
const host = '192.168.7.20:17311';
const origin = `http://${host}`;
const door = createGuestDoor({ port: 17_311, networks: () => NETWORKS });

const asked = (
  url: string,
  headers: GuestAsked['headers'] = {},
  rest: Partial<GuestAsked> = {},
): GuestAsked => ({
  method: 'GET',
  url,
  from: '192.168.7.33',
  ...rest,
  headers: { host, ...headers },
});
const post = (headers: GuestAsked['headers'], url = '/join') =>
  asked(url, headers, { method: 'POST' });

test.each<readonly [string, GuestAsked, string | number]>([
  ['the page', asked('/'), 'page'],
  ['a file of it', asked('/assets/index-B1a2c3d4.js', { origin }), 'page'],
  ['our page, joining', post({ origin }), 'join'],
  ['our page, asking', asked('/here'), 'here'],
  [
    'of this computer itself',
    asked('/', { host: '127.0.0.1:17311' }, { from: '127.0.0.1' }),
    'page',
  ],
  ['a device of another network', asked('/', {}, { from: '192.168.8.33' }), 403],
  ['a device of the wide world', asked('/', {}, { from: '203.0.113.5' }), 403],
  ['a device without an address', asked('/', {}, { from: '' }), 403],
  ['a name that is bound to this computer', asked('/', { host: 'evil.example:17311' }), 421],
  ['localhost', asked('/', { host: 'localhost:17311' }), 421],
  ['another port', asked('/', { host: '192.168.7.20:80' }), 421],
  ['no port', asked('/', { host: '192.168.7.20' }), 421],
  ['an address that is not ours', asked('/', { host: '192.168.7.21:17311' }), 421],
  ['no host', asked('/', { host: undefined }), 421],
  ['another page', asked('/', { origin: 'http://evil.example' }), 403],
  ['an opaque page', post({ origin: 'null' }), 403],
  ['our other address as a page', post({ origin: 'http://127.0.0.1:17311' }), 403],
  ['a program, joining', post({}), 403],
  ['a post elsewhere', post({ origin }, '/here'), 405],
  ['a put', asked('/', {}, { method: 'PUT' }), 405],
  ['an address elsewhere', asked('http://evil.example/'), 400],
  ['an address of no scheme', asked('//evil.example/'), 400],
  ['a query', asked('/?code=1'), 400],
])('%s', (_name, request, expected) => {
  const verdict = door.judge(request);
  expect(verdict.is === 'refuse' ? verdict.status : verdict.is).toBe(expected);
});

test.each<readonly [string, GuestAsked, number | null]>([
  ['our page', asked('/view', { origin }), null],
  ['no page', asked('/view'), 403],
  ['another page', asked('/view', { origin: 'http://evil.example' }), 403],
  ['a name bound to us', asked('/view', { origin, host: 'evil.example:17311' }), 421],
  ['another path', asked('/bench', { origin }), 404],
  ['another method', asked('/view', { origin }, { method: 'POST' }), 404],
  ['another network', asked('/view', { origin }, { from: '10.0.0.1' }), 403],
])('a socket: %s', (_name, request, expected) => {
  expect(door.judgeUpgrade(request)?.status ?? null).toBe(expected);
});

test('a computer that changes its network is known by its new address only', () => {
  let networks = NETWORKS;
  const moving = createGuestDoor({ port: 17_311, networks: () => networks });
  expect(moving.judge(asked('/')).is).toBe('page');
  networks = [{ name: 'wifi', address: '10.4.4.4', prefix: 16, isInternal: false }];
  expect(moving.judge(asked('/')).is).toBe('refuse');
  const now = asked('/', { host: '10.4.4.4:17311' }, { from: '10.4.9.9' });
  expect(moving.judge(now).is).toBe('page');
});
