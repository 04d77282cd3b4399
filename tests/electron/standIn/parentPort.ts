import { EventEmitter } from 'node:events';

/** Loaded into a utility process first: gives it the port that Electron would. */

class ParentPort extends EventEmitter {
  postMessage(message: unknown): void {
    if (process.connected) process.send?.(message, undefined, undefined, () => undefined);
  }
}

const port = new ParentPort();
process.on('message', (data) => void port.emit('message', { data, ports: [] }));
// A utility process ends with the main one.
process.on('disconnect', () => process.exit(0));
Object.defineProperty(process, 'parentPort', { value: port });
