import { randomBytes } from 'node:crypto';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import { WebSocketServer, type WebSocket } from 'ws';
import type { Scheduler } from '../core/scheduler.ts';
import { second } from '../core/units.ts';
import type { BenchSupervisor } from './benchSupervisor.ts';
import { MAX_SCREEN_TEXT, type Gate } from './gate.ts';
import { plainAnswer, type Answer, type PageAssets } from './pageAssets.ts';
import type { PageDoor } from './pageDoor.ts';
import { refuseUpgrade } from './refuseUpgrade.ts';

/**
 * The local page's server: the built page over HTTP and the contract's text over a WebSocket, both
 * on loopback only and both through the door.
 */

export const LOOPBACK = '127.0.0.1';

/** Screens at once: the bench, a mechanic's and some forgotten tabs. */
const MAX_SCREENS = 8;
/** Text not yet taken by a screen, bytes: beyond this it does not read, and is dropped. */
const MAX_BACKLOG = 4 * 1024 * 1024;
/** A screen that answered no ping for a whole period is gone. */
const PING_PERIOD = second(15);

export interface PageServer {
  readonly port: number;
  /** Screens joined now. */
  screens(): number;
  close(): Promise<void>;
}

export interface PageServerOptions {
  readonly assets: PageAssets;
  /** Makes the door for the address that is served, known once the port is. */
  readonly door: (host: string) => PageDoor;
  readonly bench: Pick<BenchSupervisor, 'join'>;
  readonly gate: Gate;
  readonly scheduler: Scheduler;
  readonly log: (line: string) => void;
  /** 0 takes any free port. */
  readonly port: number;
  readonly maxScreens?: number;
  readonly maxBacklog?: number;
}

/** Where a browser held the strict cookie back: our own page asks again, and then it comes. */
const ASK_AGAIN =
  '<!doctype html><meta http-equiv="refresh" content="0;url=/"><title>Millpond</title>';

const write = (response: ServerResponse, answer: Answer, bare: boolean): void => {
  const length = Buffer.byteLength(answer.body);
  response.writeHead(answer.status, { ...answer.headers, 'Content-Length': length });
  response.end(bare ? undefined : answer.body);
};

/**
 * Starts serving on 127.0.0.1. Rejects with the system's error (its `code` is EADDRINUSE or EACCES)
 * where the port cannot be had.
 */
export const startPageServer = async (options: PageServerOptions): Promise<PageServer> => {
  const { assets, bench, gate, scheduler, log } = options;
  const maxScreens = options.maxScreens ?? MAX_SCREENS;
  const maxBacklog = options.maxBacklog ?? MAX_BACKLOG;
  const http = createServer({ maxHeaderSize: 16_384, requestTimeout: 10_000 });
  const sockets = new WebSocketServer({
    noServer: true,
    // Of UTF-8: a text of MAX_SCREEN_TEXT units is at most three times as many bytes.
    maxPayload: MAX_SCREEN_TEXT * 3,
    perMessageDeflate: false,
    clientTracking: true,
  });

  await new Promise<void>((resolve, reject) => {
    http.once('error', reject);
    http.listen({ host: LOOPBACK, port: options.port, exclusive: true }, () => {
      http.off('error', reject);
      resolve();
    });
  });
  const address = http.address();
  if (address === null || typeof address === 'string') throw new Error('no port was given');
  const { port } = address;
  // A browser leaves the port out of Host and Origin where it is the scheme's own.
  const door = options.door(port === 80 ? LOOPBACK : `${LOOPBACK}:${port}`);

  const asked = (request: IncomingMessage) => ({
    method: request.method ?? '',
    url: request.url ?? '',
    headers: request.headers,
  });

  http.on('error', (error) => log(`the page's server: ${error.message}`));
  http.on('request', (request, response) => {
    const verdict = door.judge(asked(request));
    const bare = request.method === 'HEAD';
    if (verdict.is === 'serve') {
      const nonce = randomBytes(18).toString('base64');
      write(response, assets.answer(verdict.pathname, nonce), bare);
    } else if (verdict.is === 'refuse') {
      log(`refused ${request.method} ${verdict.status}: ${verdict.why}`);
      write(response, plainAnswer(verdict.status, verdict.why), bare);
    } else if (verdict.is === 'ask again') {
      const { headers } = plainAnswer(200, '');
      const html = { ...headers, 'Content-Type': 'text/html; charset=utf-8' };
      write(response, { status: 200, headers: html, body: ASK_AGAIN }, bare);
    } else {
      const { headers } = plainAnswer(303, '');
      const cookie = verdict.is === 'let in' ? { 'Set-Cookie': verdict.cookie } : {};
      write(
        response,
        { status: 303, headers: { ...headers, ...cookie, Location: '/' }, body: '' },
        bare,
      );
    }
  });

  const alive = new WeakSet<WebSocket>();
  const join = (socket: WebSocket): void => {
    const drop = (code: number, why: string): void => {
      log(`a screen is dropped: ${why}`);
      socket.close(code, why);
    };
    const screen = bench.join((text) => {
      if (socket.readyState !== socket.OPEN) return;
      if (socket.bufferedAmount > maxBacklog) {
        log('a screen is dropped: it does not read');
        // At once: a close frame would wait behind all that it has not read.
        socket.terminate();
      } else socket.send(text);
    });
    alive.add(socket);
    socket.on('pong', () => alive.add(socket));
    socket.on('message', (data, isBinary) => {
      if (socket.readyState !== socket.OPEN) return;
      // A text comes as one buffer: the socket's `binaryType` is left at its first value.
      if (isBinary || !Buffer.isBuffer(data)) return drop(1003, 'only text is understood');
      const text = gate.admit('screen text', { is: 'screen' }, data.toString('utf8'));
      if (text.ok) screen.receive(text.payload);
      else drop(1008, 'not a message of ours');
    });
    // Too long a message and broken frames come here; the library closes the socket itself.
    socket.on('error', (error) => log(`a screen's connection failed: ${error.message}`));
    socket.on('close', () => screen.leave());
  };

  http.on('upgrade', (request, socket, head) => {
    socket.on('error', () => socket.destroy());
    const verdict = door.judgeUpgrade(asked(request));
    const full = sockets.clients.size >= maxScreens;
    if (verdict.is === 'refuse' || full) {
      const [status, why] =
        verdict.is === 'refuse' ? [verdict.status, verdict.why] : [503, 'Too many screens.'];
      log(`refused a screen ${status}: ${why}`);
      refuseUpgrade(socket, status, why);
    } else sockets.handleUpgrade(request, socket, head, join);
  });

  const stopPinging = scheduler.every('page ping', PING_PERIOD, () => {
    for (const socket of sockets.clients) {
      if (!alive.has(socket)) {
        log('a screen is dropped: it does not answer');
        socket.terminate();
        continue;
      }
      alive.delete(socket);
      socket.ping();
    }
  });

  return {
    port,
    screens: () => sockets.clients.size,
    close: async () => {
      stopPinging();
      for (const socket of sockets.clients) socket.terminate();
      const closed = new Promise<void>((resolve) => http.close(() => resolve()));
      http.closeAllConnections();
      await closed;
    },
  };
};
