import { guestPushSchema, type GuestView } from '../../core/contract/guestView.ts';
import { RECONNECT_DELAYS } from '../bridge.ts';
import { createLateness } from './lateness.ts';

/**
 * The way from the bench: it takes views and answers each with its number, which is all that it ever
 * says. What was broken is tried again for ever; a device that is not let in is told so, once.
 */

export type GuestEvent =
  /** `late`: seconds that it was on its way beyond the usual. */
  | { readonly kind: 'view'; readonly view: GuestView; readonly late: number }
  /** Not let in, or not any more: nothing is tried again. */
  | { readonly kind: 'shut'; readonly why: string };

export interface GuestLink {
  /** Gives up a connection that says nothing, and makes a new one. */
  renew(): void;
}

/** Close codes of the guests' server. */
const SHUT: Readonly<Record<number, string>> = {
  4401: 'This device is not let in any more.',
  4409: 'It is open in another window of this device. Reload to have it here.',
};
const NOT_LET_IN = 'This device is not let in. Ask for a code.';
/** An answer that has not come by then will not. */
const ANSWER_MS = 4000;

const ask = (path: string, body: string | null = null): Promise<Response> =>
  fetch(path, {
    method: body === null ? 'GET' : 'POST',
    body,
    cache: 'no-store',
    signal: AbortSignal.timeout(ANSWER_MS),
  });

const parse = (text: string): { readonly no: number; readonly view: GuestView } | null => {
  try {
    return guestPushSchema.safeParse(JSON.parse(text)).data ?? null;
  } catch {
    return null;
  }
};

/** Joins with the code of the address, if there is one, and then follows the bench. */
export const openGuestLink = (listener: (event: GuestEvent) => void): GuestLink => {
  let socket: WebSocket | null = null;
  let tries = 0;
  let timer: ReturnType<typeof setTimeout> | null = null;
  let isShut = false;
  let refusal: string | null = null;

  const shut = (why: string): void => {
    isShut = true;
    listener({ kind: 'shut', why });
  };
  const again = (): void => {
    if (isShut || timer !== null) return;
    const delay = RECONNECT_DELAYS[Math.min(tries, RECONNECT_DELAYS.length - 1)] ?? 4;
    tries += 1;
    timer = setTimeout(() => {
      timer = null;
      void knock();
    }, delay * 1000);
  };

  /** Exchanges the code behind the `#` for the token, which this page cannot read. */
  const join = async (): Promise<void> => {
    const code = location.hash.slice(1);
    if (code === '') return;
    const answer = await ask('./join', code);
    // Gone from the address as soon as it is worth nothing: nobody copies it on.
    history.replaceState(null, '', location.pathname);
    refusal = answer.ok ? null : (await answer.text()).trim();
  };

  const follow = (): void => {
    const opened = new WebSocket(`ws://${location.host}/view`);
    socket = opened;
    // Anew with each connection: another start of the bench is another clock.
    const lateness = createLateness();
    opened.addEventListener('message', ({ data }) => {
      if (opened !== socket || typeof data !== 'string') return;
      const push = parse(data);
      if (!push) {
        opened.close();
        return shut('This page is of another version. Reload it.');
      }
      tries = 0;
      opened.send(String(push.no));
      listener({
        kind: 'view',
        view: push.view,
        late: lateness(performance.now() / 1000, push.view.t),
      });
    });
    opened.addEventListener('close', ({ code }) => {
      if (opened !== socket) return;
      socket = null;
      const why = SHUT[code];
      if (why === undefined) again();
      else shut(why);
    });
  };

  const knock = async (): Promise<void> => {
    try {
      await join();
      const { status, ok } = await ask('./here');
      if (status === 401) shut(refusal ?? NOT_LET_IN);
      else if (ok) follow();
      else again();
    } catch {
      again();
    }
  };

  void knock();
  return {
    renew: () => {
      const silent = socket;
      if (!silent) return;
      socket = null;
      silent.close();
      again();
    },
  };
};
