import { EventEmitter } from 'node:events';
import { createRequire } from 'node:module';
import type { HciPort } from './virtualController.ts';

/**
 * The socket that noble and bleno talk to, with a virtual controller or an emulator behind it. It
 * is put into the CommonJS cache, because the libraries require theirs from inside, where no test
 * runner's mock reaches; and it stays there, because they make sockets whenever they like.
 */

/** The computer's adapters, as the sockets see them. */
export interface Adapters {
  /** The adapter of that number. Throws where there is none, as a bind does. */
  open(number: number): HciPort;
  list(): readonly { readonly devId: number; readonly devUp: boolean }[];
}

const require = createRequire(import.meta.url);

let adapters: Adapters | null = null;

class VirtualSocket extends EventEmitter {
  #port: HciPort | null = null;
  #started = 0;

  /** Only here does it join a controller: bleno also makes sockets that it never binds. */
  bindRaw(number?: number): number {
    const which = number ?? 0;
    if (!adapters) throw new Error('No such device');
    this.#port = adapters.open(which);
    this.#port.attach((packet) => this.emit('data', packet));
    return which;
  }

  bindUser(number?: number): number {
    return this.bindRaw(number);
  }

  bindControl(): void {}
  setFilter(): void {}

  /** Started again, the native socket reads from a closed descriptor: it never hears again. */
  start(): void {
    this.#started += 1;
    if (this.#started > 1) this.#port?.attach(null);
  }

  stop(): void {
    this.#port?.attach(null);
  }

  isDevUp(): boolean {
    return this.#port?.up() ?? false;
  }

  getDeviceList(): ReturnType<Adapters['list']> {
    return adapters?.list() ?? [];
  }

  write(packet: Buffer): void {
    try {
      this.#port?.write(packet);
    } catch (error) {
      this.emit('error', error);
    }
  }
}

/** From now on both libraries get virtual sockets on these adapters. */
export const installSockets = (to: Adapters): void => {
  adapters = to;
  const path = require.resolve('@abandonware/bluetooth-hci-socket');
  const module = { id: path, filename: path, path, loaded: true, children: [], paths: [] };
  require.cache[path] = { ...module, exports: VirtualSocket } as unknown as NodeJS.Module;
};
