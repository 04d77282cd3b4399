/**
 * The page's half: what a preload script is given, as a script that runs before any of the page's.
 * The preload's world is the page's own here, so isolation is not shown by it.
 */

export type FromPage =
  | { readonly kind: 'ipc'; readonly channel: string; readonly values: readonly unknown[] }
  | { readonly kind: 'port'; readonly port: number; readonly data: unknown }
  | { readonly kind: 'port closed'; readonly port: number };

export type ToPage =
  | {
      readonly kind: 'ipc';
      readonly channel: string;
      readonly value: unknown;
      readonly ports: readonly number[];
    }
  | { readonly kind: 'port'; readonly port: number; readonly data: unknown };

/** Runs in the page. It refers to nothing outside itself: only its text goes there. */
const electronInPage = (toMain: (message: FromPage) => void) => {
  type Listener = (event: { readonly ports: readonly MessagePort[] }, value: unknown) => void;
  const listeners = new Map<string, Set<Listener>>();
  const ports = new Map<number, MessagePort>();

  const hand = (number: number): MessagePort => {
    const { port1, port2 } = new MessageChannel();
    ports.set(number, port1);
    port1.onmessage = ({ data }: MessageEvent<unknown>) =>
      toMain({ kind: 'port', port: number, data });
    port1.addEventListener('close', () => toMain({ kind: 'port closed', port: number }));
    return port2;
  };

  const take = (message: ToPage): void => {
    if (message.kind === 'port') ports.get(message.port)?.postMessage(message.data);
    else {
      const event = { ports: message.ports.map(hand) };
      for (const listener of listeners.get(message.channel) ?? []) listener(event, message.value);
    }
  };
  Object.defineProperty(globalThis, 'standInTake', { value: take });

  return {
    contextBridge: {
      exposeInMainWorld: (name: string, value: object) =>
        Object.defineProperty(globalThis, name, { value: Object.freeze(value), enumerable: true }),
    },
    ipcRenderer: {
      on: (channel: string, listener: Listener) => {
        const known = listeners.get(channel) ?? new Set();
        listeners.set(channel, known.add(listener));
      },
      off: (channel: string, listener: Listener) => listeners.get(channel)?.delete(listener),
      send: (channel: string, ...values: unknown[]) => toMain({ kind: 'ipc', channel, values }),
    },
  };
};

/** The script: Electron's part and the preload, in the top frame only, as without Node in sub-frames. */
export const pageSide = (preload: string): string => `
(() => {
  if (window.top !== window) return;
  const electron = (${electronInPage.toString()})(window.standInToMain);
  const require = (name) => {
    if (name === 'electron') return electron;
    throw new Error('a sandboxed preload script has no ' + name);
  };
  const module = { exports: {} };
  ((require, module, exports) => {
${preload}
  })(require, module, module.exports);
})();
`;
