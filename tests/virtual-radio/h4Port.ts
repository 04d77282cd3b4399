import { createConnection, type Socket } from 'node:net';
import { PACKET } from './hciPackets.ts';
import type { HciPort } from './virtualController.ts';

/**
 * A controller behind a stream socket, in H4 framing (Core specification, Vol 4 Part A): one byte of
 * packet type, then the packet, whose own header says how long it is.
 */

const CONNECT_DEADLINE_MS = 5000;

/** Bytes of the first whole packet in the buffer; null where it is not all there. */
const packetLength = (buffer: Buffer): number | null => {
  if (buffer.length < 5)
    return buffer.length >= 3 && buffer[0] === PACKET.event ? 3 + (buffer[2] ?? 0) : null;
  if (buffer[0] === PACKET.event) return 3 + buffer.readUInt8(2);
  if (buffer[0] === PACKET.acl) return 5 + buffer.readUInt16LE(3);
  throw new Error(`not an H4 packet: ${buffer.subarray(0, 8).toString('hex')}`);
};

/** Connects to the emulator: each connection is a controller of its own. */
export const openH4Port = (path: string): Promise<HciPort & { close(): void }> =>
  new Promise((resolve, reject) => {
    const socket: Socket = createConnection(path);
    const timer = setTimeout(() => socket.destroy(new Error('no answer')), CONNECT_DEADLINE_MS);
    let receive: ((packet: Buffer) => void) | null = null;
    let rest: Buffer = Buffer.alloc(0);
    let open = false;
    socket.on('data', (chunk: Buffer) => {
      rest = Buffer.concat([rest, chunk]);
      for (
        let length = packetLength(rest);
        length !== null && length <= rest.length;
        length = packetLength(rest)
      ) {
        const packet = Buffer.from(rest.subarray(0, length));
        rest = rest.subarray(length);
        setImmediate(() => receive?.(packet));
      }
    });
    socket.on('error', reject);
    socket.on('close', () => {
      open = false;
    });
    socket.on('connect', () => {
      clearTimeout(timer);
      open = true;
      resolve({
        write: (packet) => {
          if (open) socket.write(packet);
        },
        attach: (to) => {
          receive = to;
        },
        up: () => open,
        close: () => socket.destroy(),
      });
    });
  });
