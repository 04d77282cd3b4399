import { createGuestDoor } from '../../electron/guestDoor.ts';
import { createPageDoor, type Asked } from '../../electron/pageDoor.ts';
import { cookieName } from '../../electron/pageSecret.ts';
import { changeText } from './changes.ts';
import { must, type Target } from './target.ts';

/** Who comes in by the network: whoever was let in has shown all that has to be shown. */

const HOST = '127.0.0.1:17310';
const ORIGIN = `http://${HOST}`;
const SECRET = 'S'.repeat(43);
const TOKEN = 'T'.repeat(43);
const COOKIE = `${cookieName(SECRET)}=${SECRET}`;
const GUEST_HOST = '192.168.7.20:17311';
const NETWORKS = [
  { name: 'lo', address: '127.0.0.1', prefix: 8, isInternal: true },
  { name: 'wifi', address: '192.168.7.20', prefix: 24, isInternal: false },
];

/** A request as text: method and address, then one header a line; the sender's address is `from`. */
const askedOf = (text: string): Asked & { readonly from: string } => {
  const [first = '', ...lines] = text.split('\n');
  const [method = '', url = ''] = first.split(' ');
  const headers: Record<string, string> = {};
  for (const line of lines) {
    const at = line.indexOf(': ');
    if (at > 0) headers[line.slice(0, at)] = line.slice(at + 2);
  }
  return { method, url, headers, from: headers['from'] ?? '' };
};

const request = (line: string, headers: Readonly<Record<string, string>>): string =>
  [line, ...Object.entries(headers).map(([key, value]) => `${key}: ${value}`)].join('\n');

const WORDS = [
  '\n',
  ' ',
  ': ',
  'host: ',
  'origin: ',
  'cookie: ',
  'sec-fetch-site: cross-site',
  '; ',
  '=',
  '//',
  '..',
  '%2e',
  '@',
  'localhost',
  'null',
  HOST,
  ORIGIN,
  COOKIE,
  TOKEN,
  '/?token=',
  '/bench',
  'POST ',
  '192.168.8.1',
  '::ffff:',
];

/** Whether `cookie` was sent whole, told without the door's own parser. */
const hasCookie = (header: string | undefined): boolean =>
  new RegExp(`(?:^|;)\\s*${COOKIE}\\s*(?:;|$)`).test(header ?? '');

const pageDoor: Target<string> = {
  name: 'page door',
  kind: 'text',
  files: ['electron/pageDoor.ts'],
  seeds: [
    request('GET /', { host: HOST, cookie: COOKIE }),
    request(`GET /?token=${TOKEN}`, { host: HOST, 'sec-fetch-site': 'none' }),
    request('GET /bench', { host: HOST, origin: ORIGIN, cookie: COOKIE }),
    request('GET /', {
      host: HOST,
      'sec-fetch-site': 'cross-site',
      'sec-fetch-mode': 'navigate',
      'sec-fetch-dest': 'document',
    }),
    request('POST /', { host: 'evil.example', origin: 'http://evil.example' }),
  ],
  longest: 2000,
  change: changeText(WORDS),
  run: (text) => {
    const asked = askedOf(text);
    const { host, origin, cookie } = asked.headers as Readonly<Record<string, string | undefined>>;
    const door = createPageDoor({ host: HOST, secret: SECRET, token: TOKEN });
    const upgrade = door.judgeUpgrade(asked);
    if (upgrade.is === 'serve')
      must(host === HOST && origin === ORIGIN && hasCookie(cookie), 'a WebSocket was let in');
    const verdict = door.judge(asked);
    if (verdict.is === 'refuse') return upgrade.is === 'serve';
    must(host === HOST && (origin === undefined || origin === ORIGIN), 'a stranger was let in');
    if (verdict.is === 'let in') {
      must(asked.url.includes('token=') && asked.method === 'GET', 'let in without a token');
      must(door.judge(asked).is !== 'let in', 'the token was good twice');
    }
    if (verdict.is === 'serve') {
      must(hasCookie(cookie), 'served without the cookie');
      must(/^\/(?!.*\/\.\.?(?:\/|$))/.test(verdict.pathname), 'served above the page');
    }
    return true;
  },
};

const guestDoor: Target<string> = {
  name: 'guest door',
  kind: 'text',
  files: ['electron/guestDoor.ts'],
  seeds: [
    request('GET /', { host: GUEST_HOST, from: '192.168.7.33' }),
    request('POST /join', {
      host: GUEST_HOST,
      from: '192.168.7.33',
      origin: `http://${GUEST_HOST}`,
    }),
    request('GET /here', { host: '127.0.0.1:17311', from: '127.0.0.1' }),
    request('GET /view', { host: GUEST_HOST, from: '192.168.7.9', origin: `http://${GUEST_HOST}` }),
  ],
  longest: 2000,
  change: changeText([...WORDS, GUEST_HOST, '/join', '/here', '/view', 'from: ', '192.168.7.33']),
  run: (text) => {
    const asked = askedOf(text);
    const { host, origin } = asked.headers as Readonly<Record<string, string | undefined>>;
    const door = createGuestDoor({ port: 17_311, networks: () => NETWORKS });
    const verdict = door.judge(asked);
    const mayUpgrade = door.judgeUpgrade(asked) === null;
    if (verdict.is === 'refuse' && !mayUpgrade) return false;
    must(/^(?:127\.\d+|192\.168\.7)[.\d]*$/.test(asked.from), `from afar: ${asked.from}`);
    must(host === GUEST_HOST || host === '127.0.0.1:17311', 'for another host');
    must(origin === undefined || origin === `http://${host}`, 'from another page');
    if (verdict.is === 'join' || mayUpgrade) must(origin !== undefined, 'from no page');
    if (verdict.is === 'page') must(/^\/[\w./-]*$/.test(verdict.pathname), 'no path');
    return true;
  },
};

export const DOOR_TARGETS: readonly Target<string>[] = [pageDoor, guestDoor];
