import { EventEmitter } from 'node:events';
import { describe, expect, test } from 'vitest';
import type { FromBench } from '../../electron/gate.ts';
import { openParentLink } from '../../electron/parentLink.ts';

const setUp = () => {
  const heard: unknown[] = [];
  const listener = {
    message: (message: unknown) => heard.push(message),
    gone: () => heard.push('gone'),
  };
  return { heard, listener };
};

const ready: FromBench = { kind: 'ready' };

describe('a forked process', () => {
  class Forked extends EventEmitter {
    connected = true;
    readonly sent: unknown[] = [];
    send(message: unknown): boolean {
      this.sent.push(message);
      return true;
    }
    disconnect(): void {
      this.connected = false;
      this.emit('disconnect');
    }
  }

  test('hears, sends, and learns that the parent is gone', () => {
    const { heard, listener } = setUp();
    const host = new Forked();
    const link = openParentLink(host, listener);
    host.emit('message', { kind: 'stop' });
    link?.send(ready);
    host.disconnect();
    link?.send(ready);
    expect([heard, host.sent]).toEqual([[{ kind: 'stop' }, 'gone'], [ready]]);
  });

  test('lets go without hearing of its own doing', () => {
    const { heard, listener } = setUp();
    const host = new Forked();
    openParentLink(host, listener)?.close();
    expect([heard, host.connected, host.eventNames()]).toEqual([[], false, []]);
  });

  test('a process that nobody forked has no link', () => {
    const { listener } = setUp();
    expect(openParentLink(new EventEmitter(), listener)).toBeNull();
    const orphan = new Forked();
    orphan.connected = false;
    expect(openParentLink(orphan, listener)).toBeNull();
  });
});

describe('a utility process', () => {
  class Port extends EventEmitter {
    readonly sent: unknown[] = [];
    postMessage(message: unknown): void {
      this.sent.push(message);
    }
  }

  test('hears what is in the event, sends, and lets go', () => {
    const { heard, listener } = setUp();
    const parentPort = new Port();
    const host = Object.assign(new EventEmitter(), { parentPort });
    const link = openParentLink(host, listener);
    parentPort.emit('message', { data: { kind: 'stop' }, ports: [] });
    link?.send(ready);
    link?.close();
    parentPort.emit('message', { data: 'late' });
    expect([heard, parentPort.sent, parentPort.eventNames()]).toEqual([
      [{ kind: 'stop' }],
      [ready],
      [],
    ]);
  });
});
