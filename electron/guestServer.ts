import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { Duplex } from 'node:stream';
import { WebSocketServer, type RawData, type WebSocket } from 'ws';
import type { GuestView } from '../core/contract/guestView.ts';
import type { Scheduler } from '../core/scheduler.ts';
import { second } from '../core/units.ts';
import type { GuestBook } from './guestBook.ts';
import { createGuestDoor, type GuestAsked } from './guestDoor.ts';
import { createJoinLimit } from './joinLimit.ts';
import type { OwnNetwork } from './ownNetworks.ts';
import type { BuiltFile, BuiltPage } from './pageAssets.ts';
import { cookieValues } from './pageDoor.ts';
import { refuseUpgrade } from './refuseUpgrade.ts';
import { FIXED_HEADERS, guestPolicy, NOTHING_POLICY } from './security.ts';

/**
 * The guests' server, open to the team's network: one small page, and views of the bench one way. It is
 * given no bench, so that nothing a guest sends can reach one; what is not the number of the view that
 * was sent last ends the connection.
 */
export interface GuestServer {
  readonly port: number;
  /** Those that are connected. */
  here(): ReadonlySet<string>;
  /** Sends it to every guest that has taken its last. */
  show(view: GuestView): void;
  /** Ends the connection of a guest that is revoked. */
  cutOff(id: string): void;
  close(): Promise<void>;
}

export interface GuestServerOptions {
  readonly page: BuiltPage;
  readonly book: GuestBook;
  /** Name of the cookie that holds a token. */
  readonly cookie: string;
  readonly networks: () => readonly OwnNetwork[];
  readonly scheduler: Scheduler;
  readonly log: (line: string) => void;
  /** A guest has joined, come or gone. */
  readonly changed: () => void;
  /** 0 takes any free port. */
  readonly port: number;
}

/** Close codes of our own (RFC 6455, 7.4.2), known to the guests' page. */
const REVOKED = 4401;
const OPENED_ELSEWHERE = 4409;
const POLICY_VIOLATION = 1008;

/** All connections together: twelve phones, each with a few at once while it loads the page. */
const MAX_CONNECTIONS = 64;
/** A code is 22 letters, the number of a view at most 16 digits. */
const MAX_CODE = 64;
const MAX_ANSWER = 16;
/** A guest that has not taken its view for so long is gone: a locked phone says nothing more. */
const SILENT_FOR = 10;
/** A closing handshake gets this long. */
const FAREWELL = second(0.5);
/** A day at the track; a token is known to one start of the program only anyhow. */
const COOKIE_SECONDS = 86_400;

const { 'Cross-Origin-Opener-Policy': _secureOnly, ...GUEST_HEADERS } = FIXED_HEADERS;

const answer = (
  response: ServerResponse,
  status: number,
  text: string,
  headers: Readonly<Record<string, string>> = {},
): void => {
  response.writeHead(status, {
    ...GUEST_HEADERS,
    'Content-Security-Policy': NOTHING_POLICY,
    'Content-Type': 'text/plain; charset=utf-8',
    'Cache-Control': 'no-store',
    ...headers,
  });
  response.end(text === '' ? undefined : `${text}\n`);
};

const answerFile = (response: ServerResponse, { type, body }: BuiltFile, policy: string): void => {
  response.writeHead(200, {
    ...GUEST_HEADERS,
    'Content-Security-Policy': policy,
    'Content-Type': type,
    'Content-Length': body.byteLength,
    'Cache-Control': 'no-store',
  });
  response.end(body);
};

/** The body of a request; null where it is longer than a code or breaks off. */
const readCode = async (request: IncomingMessage): Promise<string | null> => {
  let body = '';
  try {
    for await (const piece of request.setEncoding('latin1')) {
      body += String(piece);
      if (body.length > MAX_CODE) return null;
    }
  } catch {
    return null;
  }
  return body;
};

interface Connected {
  readonly socket: WebSocket;
  no: number;
  inFlight: number | null;
  heardAt: number;
}

/** Starts on every address of this computer. Rejects with the system's error without the port. */
export const startGuestServer = async (options: GuestServerOptions): Promise<GuestServer> => {
  const { page, book, scheduler, log } = options;
  const http = createServer({
    maxHeaderSize: 8192,
    requestTimeout: 10_000,
    headersTimeout: 5000,
    connectionsCheckingInterval: 2000,
  });
  http.maxConnections = MAX_CONNECTIONS;
  const sockets = new WebSocketServer({
    noServer: true,
    maxPayload: MAX_ANSWER,
    perMessageDeflate: false,
    autoPong: false,
    clientTracking: true,
  });
  await new Promise<void>((resolve, reject) => {
    http.once('error', reject);
    http.listen({ host: '0.0.0.0', port: options.port, exclusive: true }, () => {
      http.off('error', reject);
      resolve();
    });
  });
  const address = http.address();
  if (address === null || typeof address === 'string') throw new Error('no port was given');
  const { port } = address;
  const door = createGuestDoor({ port, networks: options.networks });
  const mayTry = createJoinLimit(scheduler.now);
  const connected = new Map<string, Connected>();
  const farewells = new Set<() => void>();

  const asked = (request: IncomingMessage): GuestAsked => ({
    method: request.method ?? '',
    url: request.url ?? '',
    headers: request.headers,
    from: request.socket.remoteAddress ?? '',
  });
  const guestOf = (request: IncomingMessage): string | null =>
    book.who(cookieValues(request.headers.cookie ?? '', options.cookie));

  const refuseRequest = (response: ServerResponse, status: number, why: string): void => {
    // Never the address that was asked for: somebody's code may stand in it.
    log(`refused a guest ${status}: ${why}`);
    answer(response, status, why, { Connection: 'close' });
  };

  const join = async (request: IncomingMessage, response: ServerResponse): Promise<void> => {
    if (!mayTry(asked(request).from))
      return refuseRequest(response, 429, 'Too many tries. Wait a minute.');
    const code = await readCode(request);
    const joined = code === null ? null : book.join(code);
    if (!joined)
      return refuseRequest(
        response,
        401,
        'This code was used already, was taken back, or is of an earlier start. Ask for a new one.',
      );
    options.changed();
    const { cookie } = options;
    answer(response, 204, '', {
      'Set-Cookie': `${cookie}=${joined.token}; Path=/; HttpOnly; SameSite=Strict; Max-Age=${COOKIE_SECONDS}`,
    });
  };

  http.on('error', (error) => log(`the guests' server: ${error.message}`));
  http.on('request', (request, response) => {
    const verdict = door.judge(asked(request));
    if (verdict.is === 'refuse') refuseRequest(response, verdict.status, verdict.why);
    else if (verdict.is === 'join') void join(request, response);
    else if (verdict.is === 'here') {
      if (guestOf(request) === null) answer(response, 401, 'This device is not let in.');
      else answer(response, 204, '');
    } else if (verdict.pathname === '/')
      answerFile(response, page.index, guestPolicy(verdict.host));
    else {
      const file = page.files.get(verdict.pathname);
      if (file) answerFile(response, file, NOTHING_POLICY);
      else answer(response, 404, 'There is nothing here.');
    }
  });

  /** Lets go of a guest's connection: nothing is sent any more from here on. */
  const letGo = (id: string, code: number, why: string): void => {
    const guest = connected.get(id);
    if (!guest) return;
    connected.delete(id);
    guest.socket.close(code, why);
    const cancel = scheduler.after('guest farewell', FAREWELL, () => {
      farewells.delete(cancel);
      guest.socket.terminate();
    });
    farewells.add(cancel);
    guest.socket.once('close', () => {
      cancel();
      farewells.delete(cancel);
    });
    options.changed();
  };

  const come = (id: string, socket: WebSocket): void => {
    // One device, one screen; and a phone that lost its way may still have an old one.
    letGo(id, OPENED_ELSEWHERE, 'opened elsewhere');
    const guest: Connected = { socket, no: 0, inFlight: null, heardAt: scheduler.now() };
    connected.set(id, guest);
    const isCurrent = (): boolean => connected.get(id) === guest;
    const drop = (why: string): void => {
      if (!isCurrent()) return;
      log(`a guest is dropped: ${why}`);
      letGo(id, POLICY_VIOLATION, why);
    };
    socket.on('message', (data: RawData, isBinary) => {
      if (!isCurrent()) return;
      const text = !isBinary && Buffer.isBuffer(data) ? data.toString('latin1') : null;
      if (guest.inFlight === null || text !== String(guest.inFlight))
        return drop('it may only read');
      guest.inFlight = null;
      guest.heardAt = scheduler.now();
      book.seen(id);
    });
    socket.on('ping', () => drop('it may only read'));
    socket.on('pong', () => drop('it may only read'));
    // Too long a message and broken frames come here; the library closes the socket itself.
    socket.on('error', (error) => log(`a guest's connection failed: ${error.message}`));
    socket.on('close', () => {
      if (!isCurrent()) return;
      connected.delete(id);
      options.changed();
    });
    book.seen(id);
    options.changed();
  };

  http.on('upgrade', (request: IncomingMessage, socket: Duplex, head: Buffer) => {
    socket.on('error', () => socket.destroy());
    const wrong = door.judgeUpgrade(asked(request));
    const id = wrong ? null : guestOf(request);
    if (id !== null)
      return sockets.handleUpgrade(request, socket, head, (opened) => come(id, opened));
    const [status, why] = wrong ? [wrong.status, wrong.why] : [401, 'This device is not let in.'];
    log(`refused a guest ${status}: ${why}`);
    return refuseUpgrade(socket, status, why);
  });

  return {
    port,
    here: () => new Set(connected.keys()),
    show: (view) => {
      const now = scheduler.now();
      const text = JSON.stringify(view);
      for (const [id, guest] of connected) {
        if (guest.inFlight === null) {
          guest.inFlight = guest.no += 1;
          guest.socket.send(`{"no":${guest.no},"view":${text}}`);
        } else if (now - guest.heardAt > SILENT_FOR) {
          connected.delete(id);
          // At once: a closing handshake would wait for who does not answer.
          guest.socket.terminate();
          options.changed();
        }
      }
    },
    cutOff: (id) => letGo(id, REVOKED, 'not let in any more'),
    close: async () => {
      for (const cancel of farewells) cancel();
      connected.clear();
      for (const socket of sockets.clients) socket.terminate();
      const closed = new Promise<void>((resolve) => http.close(() => resolve()));
      http.closeAllConnections();
      await closed;
      options.changed();
    },
  };
};
