import type { Duplex } from 'node:stream';

/** Refuses an upgrade before there is a WebSocket. */
export const refuseUpgrade = (socket: Duplex, status: number, why: string): void => {
  socket.end(
    `HTTP/1.1 ${status} Refused\r\nConnection: close\r\nContent-Type: text/plain; charset=utf-8\r\n` +
      `Content-Length: ${Buffer.byteLength(why)}\r\n\r\n${why}`,
  );
};
