import { createServer, type Server } from 'node:http';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { WebSocketServer, type WebSocket } from 'ws';
import type { CornerLive, Frame } from '../../../core/contract/events.ts';
import { encodePush, requestSchema } from '../../../core/contract/messages.ts';
import { perCorner } from '../../../core/corners.ts';
import { contentPolicy } from '../../../electron/security.ts';
import { massAt, SPAN } from './scene.ts';

/** Serves the built benchmark page under the app's own policy and sends it frames as the bench does. */

export interface Load {
  readonly name: string;
  /** Samples a second and corner. */
  readonly rate: number;
  /** Seconds for which frames are held back and then given at once; 0 for an even flow. */
  readonly clump: number;
}

const TICK_MS = 1000 / 60;

const nowSeconds = (): number => performance.now() / 1000;

const cornerLive = (corner: number, from: number, to: number, rate: number): CornerLive => {
  const t: number[] = [];
  const kg: number[] = [];
  for (let n = Math.ceil(from * rate); n < to * rate; n += 1) {
    t.push(n / rate);
    kg.push(massAt(corner, n / rate, rate));
  }
  return {
    status: 'live',
    age: 0.01,
    mass: kg.at(-1) ?? massAt(corner, to, rate),
    stillness: 'moving',
    mean: null,
    u: null,
    overload: false,
    calibrated: false,
    zeroed: true,
    t,
    kg,
  };
};

/** Feeds one page: a whole window first, then what is new, one frame in flight. */
const feed = (socket: WebSocket, load: Load): void => {
  let no = 0;
  let sentTo = nowSeconds() - SPAN - 1;
  let taken = true;
  let held = nowSeconds();
  const send = (): void => {
    const t = nowSeconds();
    if (!taken || t - held < load.clump) return;
    held = t;
    taken = false;
    no += 1;
    const frame: Frame = {
      no,
      t,
      corners: perCorner((_, index) => cornerLive(index, sentTo, t, load.rate)),
      stillness: 'moving',
      settledFor: 0,
      balance: null,
      early: null,
      onePad: null,
      notReady: 'moving',
    };
    sentTo = t;
    socket.send(encodePush({ kind: 'frame', frame }));
  };
  const timer = setInterval(send, TICK_MS);
  socket.on('message', (data: Buffer) => {
    const request = requestSchema.safeParse(JSON.parse(data.toString('utf8')));
    if (request.success && request.data.kind === 'frame taken') taken = true;
  });
  socket.on('close', () => clearInterval(timer));
};

export interface Sender {
  readonly origin: string;
  /** What the pages opened from now on are sent. */
  load: Load;
  close(): void;
}

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
};

/** Starts on a free loopback port, serving the files of `folder`. */
export const startSender = async (folder: string, first: Load): Promise<Sender> => {
  const nonce = 'benchmark';
  const http: Server = createServer((request, response) => {
    const name = new URL(request.url ?? '/', 'http://x').pathname;
    const file = path.join(folder, name === '/' ? 'index.html' : path.normalize(name));
    try {
      const type = TYPES[path.extname(file)] ?? 'application/octet-stream';
      const body = readFileSync(file);
      response.writeHead(200, {
        'Content-Type': type,
        'Content-Security-Policy': contentPolicy(nonce),
      });
      response.end(
        type.startsWith('text/html') ? body.toString().replaceAll('__CSP_NONCE__', nonce) : body,
      );
    } catch {
      response.writeHead(404).end();
    }
  });
  const sockets = new WebSocketServer({ server: http, path: '/bench' });
  await new Promise<void>((resolve) => http.listen(0, '127.0.0.1', resolve));
  const address = http.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  const sender: Sender = {
    origin: `http://127.0.0.1:${address.port}`,
    load: first,
    close: () => {
      for (const client of sockets.clients) client.terminate();
      sockets.close();
      http.close();
    },
  };
  sockets.on('connection', (socket) => feed(socket, sender.load));
  return sender;
};
