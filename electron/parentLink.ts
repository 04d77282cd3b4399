import type { FromBench } from './gate.ts';

/**
 * The bench process's line to whoever started it: Electron's `process.parentPort` in a utility
 * process, `process.send` in a forked one. Nothing else knows which.
 */

export interface ParentLink {
  send(message: FromBench): void;
  /** Lets go of the line, so that it no longer keeps the process alive. */
  close(): void;
}

export interface ParentListener {
  message(message: unknown): void;
  /** The parent is gone or has let go: the process has no one left to serve. */
  gone(): void;
}

/** The side of Electron's ParentPort that is used (its message wraps the data). */
export interface PortLike {
  on(event: 'message', listener: (event: { readonly data: unknown }) => void): unknown;
  removeListener(event: 'message', listener: (event: { readonly data: unknown }) => void): unknown;
  postMessage(message: unknown): void;
}

/** The side of a Node process that is used. */
export interface ProcessLike {
  readonly parentPort?: PortLike | undefined;
  readonly connected?: boolean | undefined;
  readonly send?:
    | ((
        message: unknown,
        handle: undefined,
        options: undefined,
        sent: (error: Error | null) => void,
      ) => boolean)
    | undefined;
  readonly disconnect?: (() => void) | undefined;
  on(event: 'message' | 'disconnect', listener: (message: unknown) => void): unknown;
  removeListener(event: 'message' | 'disconnect', listener: (message: unknown) => void): unknown;
}

/** Opens the line of this process; null where nobody started it as a bench process. */
export const openParentLink = (host: ProcessLike, listener: ParentListener): ParentLink | null => {
  const port = host.parentPort;
  if (port) {
    const heard = (event: { readonly data: unknown }): void => listener.message(event.data);
    port.on('message', heard);
    // Electron ends a utility process with its parent: there is no event to wait for.
    return {
      send: (message) => port.postMessage(message),
      close: () => void port.removeListener('message', heard),
    };
  }

  if (!host.send || host.connected !== true) return null;
  const heard = (message: unknown): void => listener.message(message);
  const gone = (): void => listener.gone();
  host.on('message', heard);
  host.on('disconnect', gone);
  return {
    send: (message) => {
      // A parent that has just gone makes this fail; `disconnect` follows and says so.
      if (host.connected === true) host.send?.(message, undefined, undefined, () => undefined);
    },
    close: () => {
      host.removeListener('message', heard);
      host.removeListener('disconnect', gone);
      if (host.connected === true) host.disconnect?.();
    },
  };
};
