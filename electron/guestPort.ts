import { randomBytes } from 'node:crypto';
import type { GuestPort } from '../core/bench/ports.ts';
import type { Scheduler } from '../core/scheduler.ts';
import { createGuestBook } from './guestBook.ts';
import { startGuestServer, type GuestServer } from './guestServer.ts';
import type { OwnNetwork } from './ownNetworks.ts';
import { readBuiltPage, type BuiltPage } from './pageAssets.ts';
import { qrCode } from './qrCode.ts';

/** The usual port, beside the local page's: a phone finds its way back when the view is switched on again. */
const USUAL_PORT = 17_311;

/** The guests, and the port they come through while it is open. */
export const createGuestPort = (options: {
  /** The built page for guests. */
  readonly folder: string;
  readonly networks: () => readonly OwnNetwork[];
  readonly scheduler: Scheduler;
  readonly newId: () => string;
  readonly wallClock: () => number;
  readonly log: (line: string) => void;
  /** Tests take any free one: 0. */
  readonly port?: number;
}): GuestPort => {
  const { log } = options;
  const book = createGuestBook(options);
  // Cookies do not tell ports apart: two programs on one computer must not take each other's.
  const cookie = `millpond-guest-${randomBytes(6).toString('hex')}`;
  const listeners = new Set<() => void>();
  const changed = (): void => {
    for (const listener of listeners) listener();
  };
  let server: GuestServer | null = null;

  const start = (page: BuiltPage, port: number): Promise<GuestServer> =>
    startGuestServer({ ...options, page, book, cookie, changed, port });

  const open = async (): ReturnType<GuestPort['open']> => {
    if (server) return { ok: true };
    let page: BuiltPage;
    try {
      page = readBuiltPage(options.folder);
    } catch (error) {
      log(String(error));
      return { ok: false, why: 'not built' };
    }
    try {
      server = await start(page, options.port ?? USUAL_PORT).catch(() => start(page, 0));
    } catch (error) {
      log(`the guests' port: ${String(error)}`);
      return { ok: false, why: 'no port' };
    }
    changed();
    return { ok: true };
  };
  const close = async (): Promise<void> => {
    const closing = server;
    server = null;
    await closing?.close();
  };
  // One after the other: a port that opens while it is being shut would be left open.
  let turning: Promise<unknown> = Promise.resolve();
  const inTurn = <T>(turn: () => Promise<T>): Promise<T> => {
    const turned = turning.then(turn);
    turning = turned.catch(() => undefined);
    return turned;
  };

  return {
    open: () => inTurn(open),
    close: () => inTurn(close),
    invite: (name) => {
      if (!server) return { ok: false, why: 'shut' };
      const { port } = server;
      const invited = book.invite(name);
      if (!invited) return { ok: false, why: 'too many' };
      const all = options.networks();
      const outward = all.filter(({ isInternal }) => !isInternal);
      changed();
      return {
        ok: true,
        id: invited.id,
        // A computer in no network can still be read on itself.
        codes: (outward.length > 0 ? outward : all).map(({ name: network, address }) => {
          const url = `http://${address}:${port}/#${invited.code}`;
          return { network, address, url, qr: qrCode(url) };
        }),
      };
    },
    revoke: (id) => {
      const wasThere = book.revoke(id);
      server?.cutOff(id);
      changed();
      return wasThere;
    },
    isWatched: () => (server?.here().size ?? 0) > 0,
    show: (view) => server?.show(view),
    state: () => {
      const here = server?.here() ?? new Set<string>();
      return {
        isOn: server !== null,
        guests: book.list().map((guest) => ({ ...guest, isHere: here.has(guest.id) })),
      };
    },
    onChange: (listener) => {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
  };
};
