import { EventEmitter } from 'node:events';

/** One end of a channel in the main process, or its way to a page once it was handed there. */
export class MessagePortMain extends EventEmitter {
  peer: MessagePortMain | null = null;
  #started = false;
  #closed = false;
  readonly #waiting: unknown[] = [];

  /** Takes what the other end sent; it waits until somebody listens, as with any port. */
  take(data: unknown): void {
    if (this.#closed) return;
    if (this.#started) this.emit('message', { data, ports: [] });
    else this.#waiting.push(data);
  }
  postMessage(data: unknown): void {
    const copy: unknown = structuredClone(data);
    const { peer } = this;
    // Never within the sender's own turn.
    setImmediate(() => peer?.take(copy));
  }
  start(): void {
    if (this.#started) return;
    this.#started = true;
    for (const data of this.#waiting.splice(0)) this.take(data);
  }
  close(): void {
    if (this.#closed) return;
    this.#closed = true;
    const { peer } = this;
    this.emit('close');
    setImmediate(() => peer?.close());
  }
}

export class MessageChannelMain {
  readonly port1 = new MessagePortMain();
  readonly port2 = new MessagePortMain();
  constructor() {
    this.port1.peer = this.port2;
    this.port2.peer = this.port1;
  }
}
