import { cookieName, isSame } from './pageSecret.ts';

/**
 * Who may come in. Every request and every WebSocket is judged here by its Host (against names that
 * are re-bound to this machine), its Origin and fetch metadata (against other pages) and its cookie
 * (against other users and programs of this machine).
 */

export interface Asked {
  readonly method: string;
  /** As it stands in the request line. */
  readonly url: string;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
}

export type Verdict =
  | { readonly is: 'serve'; readonly pathname: string }
  /** The token was right: give the cookie (a Set-Cookie value) and send on to the page. */
  | { readonly is: 'let in'; readonly cookie: string }
  /** Already in: send on to the page, away from the address with the token. */
  | { readonly is: 'send on' }
  /**
   * Somebody else's link led here and the browser held the strict cookie back: let our own page
   * ask again, which brings it.
   */
  | { readonly is: 'ask again' }
  | { readonly is: 'refuse'; readonly status: number; readonly why: string };

export interface PageDoor {
  judge(asked: Asked): Verdict;
  /** For a WebSocket: only `serve` (of /bench) or `refuse`. */
  judgeUpgrade(asked: Asked): Extract<Verdict, { is: 'serve' | 'refuse' }>;
}

/** Path of the WebSocket. */
const BENCH_PATH = '/bench';

/** 400 days: the longest that browsers keep a cookie (draft RFC 6265bis, section 5.5). */
const COOKIE_SECONDS = 400 * 86_400;

const refuse = (status: number, why: string): Extract<Verdict, { is: 'refuse' }> => ({
  is: 'refuse',
  status,
  why,
});

/** Values of every cookie of that name: a browser may send more than one. */
export const cookieValues = (header: string, name: string): readonly string[] =>
  header.split(';').flatMap((pair) => {
    const at = pair.indexOf('=');
    return at >= 0 && pair.slice(0, at).trim() === name ? [pair.slice(at + 1).trim()] : [];
  });

/** Makes the door of the page at `host` (address and port). The token opens it once. */
export const createPageDoor = (options: {
  readonly host: string;
  readonly secret: string;
  readonly token: string;
}): PageDoor => {
  const { host, secret } = options;
  const origin = `http://${host}`;
  const name = cookieName(secret);
  let token: string | null = options.token;

  const header = ({ headers }: Asked, key: string): string | null => {
    const value = headers[key];
    return typeof value === 'string' ? value : null;
  };

  const hasCookie = (asked: Asked): boolean =>
    cookieValues(header(asked, 'cookie') ?? '', name).some((value) => isSame(value, secret));

  const isNavigation = (asked: Asked): boolean =>
    header(asked, 'sec-fetch-mode') === 'navigate' &&
    header(asked, 'sec-fetch-dest') === 'document';

  const parse = (asked: Asked): URL | null =>
    /^\/(?!\/)/.test(asked.url) && URL.canParse(asked.url, origin)
      ? new URL(asked.url, origin)
      : null;

  /** What is wrong with where a request comes from; null when it comes from our page or a person. */
  const stranger = (asked: Asked): Extract<Verdict, { is: 'refuse' }> | null => {
    if (header(asked, 'host') !== host) return refuse(421, 'This address is not served here.');
    const from = asked.headers['origin'];
    if (from !== undefined && from !== origin)
      return refuse(403, 'Another page may not ask for this.');
    return null;
  };

  return {
    judge: (asked) => {
      const wrong = stranger(asked);
      if (wrong) return wrong;
      if (asked.method !== 'GET' && asked.method !== 'HEAD')
        return refuse(405, 'Only GET is served.');
      const url = parse(asked);
      if (!url) return refuse(400, 'This is not an address.');

      const site = header(asked, 'sec-fetch-site');
      const foreign = site !== null && site !== 'same-origin' && site !== 'none';
      if (foreign && !(url.pathname === '/' && isNavigation(asked)))
        return refuse(403, 'Another page may not ask for this.');

      const given = url.pathname === '/' ? url.searchParams.get('token') : null;
      if (given !== null && asked.method === 'GET' && token !== null && isSame(given, token)) {
        token = null;
        const cookie = `${name}=${secret}; Path=/; HttpOnly; SameSite=Strict; Max-Age=${COOKIE_SECONDS}`;
        return { is: 'let in', cookie };
      }
      if (!hasCookie(asked)) {
        if (foreign && given === null) return { is: 'ask again' };
        return refuse(
          401,
          given === null
            ? 'Open Millpond with the address that it printed when it started.'
            : 'This address was used already or is of an earlier start. Start Millpond again for a new one.',
        );
      }
      return given === null ? { is: 'serve', pathname: url.pathname } : { is: 'send on' };
    },
    judgeUpgrade: (asked) => {
      const wrong = stranger(asked);
      if (wrong) return wrong;
      // A browser always names the origin of a WebSocket; what does not is no page of ours.
      if (header(asked, 'origin') !== origin)
        return refuse(403, 'Another page may not ask for this.');
      const pathname = parse(asked)?.pathname;
      if (asked.method !== 'GET' || pathname !== BENCH_PATH)
        return refuse(404, 'There is nothing here.');
      if (!hasCookie(asked)) return refuse(401, 'This browser was not let in.');
      return { is: 'serve', pathname };
    },
  };
};
