/**
 * The way to the bench: the desktop shell's port where there is one, else a WebSocket to where the
 * page came from. It moves text and knows no meaning; a broken socket is opened again for ever, each
 * time after a longer wait.
 */

export type LinkEvent =
  | { readonly kind: 'open' }
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'closed' };

export interface Link {
  /** Sends one message; while the link is down it is lost, and the caller's deadline says so. */
  send(text: string): void;
  close(): void;
}

export type OpenLink = (listener: (event: LinkEvent) => void) => Link;

interface ShellPort {
  send(text: string): void;
  close(): void;
}

declare global {
  interface Window {
    /** Put there by the desktop shell's preload script. */
    readonly millpond?: { connect(receive: (text: string) => void): ShellPort };
  }
}

/** Seconds before each new try after a break: short at first, since most breaks are restarts. */
export const RECONNECT_DELAYS: readonly number[] = [0.25, 0.5, 1, 2, 4];

const openShellPort =
  (connect: (receive: (text: string) => void) => ShellPort): OpenLink =>
  (listener) => {
    const port = connect((text) => listener({ kind: 'text', text }));
    queueMicrotask(() => listener({ kind: 'open' }));
    return port;
  };

const openSocket =
  (address: string): OpenLink =>
  (listener) => {
    let socket: WebSocket | null = null;
    let tries = 0;
    let timer: ReturnType<typeof setTimeout> | null = null;
    let closed = false;

    const open = (): void => {
      timer = null;
      const opened = new WebSocket(address);
      socket = opened;
      opened.addEventListener('open', () => {
        tries = 0;
        listener({ kind: 'open' });
      });
      opened.addEventListener('message', ({ data }) => {
        if (typeof data === 'string') listener({ kind: 'text', text: data });
      });
      opened.addEventListener('close', () => {
        if (closed) return;
        listener({ kind: 'closed' });
        const delay = RECONNECT_DELAYS[Math.min(tries, RECONNECT_DELAYS.length - 1)] ?? 4;
        tries += 1;
        timer = setTimeout(open, delay * 1000);
      });
    };

    open();
    return {
      send: (text) => {
        if (socket?.readyState === WebSocket.OPEN) socket.send(text);
      },
      close: () => {
        closed = true;
        if (timer !== null) clearTimeout(timer);
        socket?.close();
      },
    };
  };

/** The way that this window has. */
export const findLink = (): OpenLink => {
  if (window.millpond) return openShellPort(window.millpond.connect);
  const { protocol, host } = window.location;
  return openSocket(`${protocol === 'https:' ? 'wss' : 'ws'}://${host}/bench`);
};
