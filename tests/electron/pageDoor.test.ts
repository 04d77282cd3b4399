import { describe, expect, test } from 'vitest';
import { createPageDoor, type Asked, type Verdict } from '../../electron/pageDoor.ts';
import { cookieName } from '../../electron/pageSecret.ts';

const host = '127.0.0.1:17310';
const secret = 's'.repeat(43);
const token = 't'.repeat(43);
const cookie = `${cookieName(secret)}=${secret}`;

const makeDoor = () => createPageDoor({ host, secret, token });
const get = (url: string, headers: Asked['headers'] = {}): Asked => ({
  method: 'GET',
  url,
  headers: { host, ...headers },
});

describe('a request', () => {
  test.each<[string, Asked, Verdict['is'] | number]>([
    ['with the cookie', get('/', { cookie }), 'serve'],
    ['with the cookie among others', get('/', { cookie: `a=b; ${cookie}; c=d` }), 'serve'],
    [
      'with a planted cookie before ours',
      get('/', { cookie: `${cookieName(secret)}=x; ${cookie}` }),
      'serve',
    ],
    ['HEAD', { ...get('/', { cookie }), method: 'HEAD' }, 'serve'],
    ['from our page', get('/a.js', { cookie, 'sec-fetch-site': 'same-origin' }), 'serve'],
    ['typed by a person', get('/', { cookie, 'sec-fetch-site': 'none' }), 'serve'],
    ['with our origin', get('/', { cookie, origin: `http://${host}` }), 'serve'],
    ['without a cookie', get('/'), 401],
    ['with a wrong cookie', get('/', { cookie: `${cookieName(secret)}=${'x'.repeat(43)}` }), 401],
    ['with the secret under another name', get('/', { cookie: `x=${secret}` }), 401],
    ['with an empty cookie', get('/', { cookie: `${cookieName(secret)}=` }), 401],
    ['with a cookie that ends in ours', get('/', { cookie: `x${cookie}` }), 401],
    ['with the secret for a token', get(`/?token=${secret}`), 401],
    ['with a wrong token', get(`/?token=${'x'.repeat(43)}`), 401],
    ['with an empty token', get('/?token='), 401],
    ['with the token at another path', get(`/assets/?token=${token}`), 401],
    ['HEAD with the token', { ...get(`/?token=${token}`), method: 'HEAD' }, 401],
    ['of a name bound to this machine', get('/', { cookie, host: 'evil.example:17310' }), 421],
    ['of localhost', get('/', { cookie, host: 'localhost:17310' }), 421],
    ['of another port', get('/', { cookie, host: '127.0.0.1:80' }), 421],
    ['of no port', get('/', { cookie, host: '127.0.0.1' }), 421],
    ['without a host', get('/', { cookie, host: undefined }), 421],
    [
      'with the token of a name bound to this machine',
      get(`/?token=${token}`, { host: 'evil.example' }),
      421,
    ],
    ['from another origin', get('/', { cookie, origin: 'http://evil.example' }), 403],
    ['from an opaque origin', get('/', { cookie, origin: 'null' }), 403],
    ['from our address in https', get('/', { cookie, origin: `https://${host}` }), 403],
    ['from another port’s origin', get('/', { cookie, origin: 'http://127.0.0.1:80' }), 403],
    [
      'for a script from another site',
      get('/a.js', { cookie, 'sec-fetch-site': 'cross-site' }),
      403,
    ],
    [
      'for a script from another port',
      get('/a.js', { cookie, 'sec-fetch-site': 'same-site' }),
      403,
    ],
    [
      'for the page in a frame of another site',
      get('/', {
        cookie,
        'sec-fetch-site': 'cross-site',
        'sec-fetch-mode': 'navigate',
        'sec-fetch-dest': 'iframe',
      }),
      403,
    ],
    [
      'for the page by another site’s link, cookie held back',
      get('/', {
        'sec-fetch-site': 'cross-site',
        'sec-fetch-mode': 'navigate',
        'sec-fetch-dest': 'document',
      }),
      'ask again',
    ],
    [
      'for the page by our own page, and still no cookie',
      get('/', {
        'sec-fetch-site': 'same-origin',
        'sec-fetch-mode': 'navigate',
        'sec-fetch-dest': 'document',
      }),
      401,
    ],
    ['POST', { ...get('/', { cookie }), method: 'POST' }, 405],
    ['OPTIONS', { ...get('/', { cookie }), method: 'OPTIONS' }, 405],
    ['through us to another', get('http://evil.example/', { cookie }), 400],
    ['of no scheme', get('//evil.example/', { cookie }), 400],
    ['of a star', get('*', { cookie }), 400],
  ])('%s', (_what, asked, expected) => {
    const verdict = makeDoor().judge(asked);
    expect(verdict.is === 'refuse' ? verdict.status : verdict.is).toBe(expected);
  });

  test('paths come out without a way up', () => {
    const verdict = makeDoor().judge(get('/assets/../../%2e%2e/etc/passwd', { cookie }));
    expect(verdict).toEqual({ is: 'serve', pathname: '/etc/passwd' });
  });
});

describe('the token', () => {
  test('gives the cookie once, and is burnt', () => {
    const door = makeDoor();
    expect(door.judge(get(`/?token=${token}`))).toEqual({
      is: 'let in',
      cookie: `${cookie}; Path=/; HttpOnly; SameSite=Strict; Max-Age=34560000`,
    });
    expect(door.judge(get(`/?token=${token}`))).toMatchObject({ is: 'refuse', status: 401 });
    expect(door.judge(get(`/?token=${token}`, { cookie }))).toEqual({ is: 'send on' });
  });

  test('a wrong one, a HEAD and a refused host do not burn it', () => {
    const door = makeDoor();
    door.judge(get('/?token=wrong'));
    door.judge({ ...get(`/?token=${token}`), method: 'HEAD' });
    door.judge(get(`/?token=${token}`, { host: 'evil.example' }));
    expect(door.judge(get(`/?token=${token}`))).toMatchObject({ is: 'let in' });
  });
});

describe('a WebSocket', () => {
  const origin = `http://${host}`;
  test.each<[string, Asked, 'serve' | number]>([
    ['with cookie and origin', get('/bench', { cookie, origin }), 'serve'],
    ['without a cookie', get('/bench', { origin }), 401],
    ['without an origin', get('/bench', { cookie }), 403],
    ['of another origin', get('/bench', { cookie, origin: 'http://evil.example' }), 403],
    ['of an opaque origin', get('/bench', { cookie, origin: 'null' }), 403],
    [
      'of a name bound to this machine',
      get('/bench', { cookie, host: 'evil.example', origin: 'http://evil.example' }),
      421,
    ],
    ['at another path', get('/', { cookie, origin }), 404],
    ['below the path', get('/bench/x', { cookie, origin }), 404],
    ['by POST', { ...get('/bench', { cookie, origin }), method: 'POST' }, 404],
    ['with the token for a cookie', get(`/bench?token=${token}`, { origin }), 401],
  ])('%s', (_what, asked, expected) => {
    const verdict = makeDoor().judgeUpgrade(asked);
    expect(verdict.is === 'refuse' ? verdict.status : verdict.is).toBe(expected);
  });
});
