import { contextBridge, ipcRenderer, type IpcRendererEvent } from 'electron';
import { BENCH_PORT } from './channels.ts';

/**
 * The only thing the window's page is given: a line to the bench. The port itself stays on this
 * side; what crosses is text.
 */

/** Text kept until the port is there: a hello and a few commands. Beyond it, something is wrong. */
const MAX_WAITING = 64;

let lastTicket = 0;

const connect = (receive: (text: string) => void): { send(text: string): void; close(): void } => {
  const ticket = ++lastTicket;
  const waiting: string[] = [];
  let port: MessagePort | null = null;
  let closed = false;

  const close = (): void => {
    closed = true;
    waiting.length = 0;
    ipcRenderer.off(BENCH_PORT, arrived);
    port?.close();
    port = null;
  };

  const arrived = (event: IpcRendererEvent, answer: unknown): void => {
    if (answer !== ticket) return;
    ipcRenderer.off(BENCH_PORT, arrived);
    const given = event.ports[0];
    if (!given || closed) return;
    port = given;
    port.onmessage = ({ data }: MessageEvent<unknown>) => {
      if (!closed && typeof data === 'string') receive(data);
    };
    for (const text of waiting.splice(0)) port.postMessage(text);
  };

  ipcRenderer.on(BENCH_PORT, arrived);
  ipcRenderer.send(BENCH_PORT, { ticket });

  return {
    send: (text) => {
      if (closed) return;
      if (port) port.postMessage(text);
      else if (waiting.length < MAX_WAITING) waiting.push(text);
      else close();
    },
    close,
  };
};

contextBridge.exposeInMainWorld('millpond', { connect });
