import { request, type IncomingHttpHeaders } from 'node:http';
import { WebSocket, type RawData } from 'ws';

/** Asks a server on loopback with headers that a browser would not let anybody choose. */

export interface Told {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

export interface AskOptions {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
}

/** One request; `path` goes out as it stands. */
export const ask = (port: number, path: string, options: AskOptions = {}): Promise<Told> =>
  new Promise((resolve, reject) => {
    const sent = request(
      {
        host: '127.0.0.1',
        port,
        path,
        method: options.method ?? 'GET',
        headers: { ...options.headers },
        agent: false,
      },
      (response) => {
        let body = '';
        response.setEncoding('utf8');
        response.on('data', (piece: string) => (body += piece));
        response.on('end', () =>
          resolve({ status: response.statusCode ?? 0, headers: response.headers, body }),
        );
      },
    );
    sent.on('error', reject);
    sent.end();
  });

/** A WebSocket that was let in, or the status it was refused with. */
export const connect = (
  port: number,
  path: string,
  headers: Readonly<Record<string, string>>,
  options: { readonly autoPong?: boolean } = {},
): Promise<WebSocket | number> =>
  new Promise((resolve, reject) => {
    const socket = new WebSocket(`ws://127.0.0.1:${port}${path}`, { headers, ...options });
    socket.once('open', () => resolve(socket));
    socket.once('unexpected-response', (_request, response) => {
      response.resume();
      resolve(response.statusCode ?? 0);
      socket.terminate();
    });
    socket.on('error', (error) => reject(error));
  });

/** The cookie to send back for a Set-Cookie header. */
export const cookieFrom = (told: Told): string =>
  (told.headers['set-cookie']?.[0] ?? '').split(';')[0] ?? '';

/** The next message of a socket as text, and whether it was sent as bytes. */
export const nextMessage = (socket: WebSocket): Promise<readonly [string, boolean]> =>
  new Promise((resolve) => {
    socket.once('message', (data: RawData, isBinary) => {
      if (!Buffer.isBuffer(data)) throw new Error('a message comes as one buffer');
      resolve([data.toString('utf8'), isBinary]);
    });
  });
