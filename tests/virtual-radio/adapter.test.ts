import { expect, test } from 'vitest';
import { createDrivenScheduler } from '../../core/scheduler.ts';
import { createNobleTransport } from '../../drivers/pads/transport/noble.ts';
import type { AdapterResult } from './adapter.child.ts';
import { runChild } from './runChild.ts';

const GIVEN_UP = 'connect: Error: the connect was given up';
const CAME_BACK = ['A streams', 'read: done', 'A lost', GIVEN_UP, 'A streams', 'B streams'];

const table: Readonly<Record<string, AdapterResult>> = {
  plugged: { told: ['starting/', 'absent/radio-absent', 'on/'], happened: [] },
  'switched on': {
    told: ['starting/', 'off/radio-off', 'on/'],
    happened: ['A streams', 'A lost'],
  },
  'switched off': {
    told: ['starting/', 'on/', 'off/radio-off', 'on/'],
    happened: [...CAME_BACK, 'A lost', 'B lost'],
  },
  'pulled out': {
    told: ['starting/', 'on/', 'absent/radio-reset', 'on/'],
    happened: [...CAME_BACK, 'A lost', 'B lost'],
  },
  'not permitted': { told: ['starting/', 'not permitted/radio-not-permitted'], happened: [] },
  unsupported: { told: ['starting/', 'unsupported/radio-unsupported'], happened: [] },
  mute: {
    told: ['starting/', 'absent/radio-absent'],
    happened: ['after 9.9 s: starting/', 'timers left: '],
  },
  'given up': {
    told: ['starting/', 'on/'],
    happened: [GIVEN_UP, 'B streams', 'A streams', 'B lost', 'A lost'],
  },
  'never confirmed': {
    told: ['starting/', 'on/'],
    happened: [GIVEN_UP, 'B streams', 'B lost'],
  },
  'scans or connects': {
    told: ['starting/', 'on/'],
    happened: ['A streams', 'B streams', 'A lost', 'B lost'],
  },
  'ends at once': {
    told: ['starting/', 'on/'],
    happened: ['A lost', 'discover: Error: the link ended', 'A streams', 'A lost'],
  },
  'operations and loss': {
    told: ['starting/', 'on/'],
    happened: [
      'SIGINT handlers added: 0',
      'A streams',
      'subscribe twice: Error: 8f1d00026b0e4c529a375d1c2e7f40b6 is already subscribed to',
      'signal: done',
      'A lost',
      'close: done',
      'read: Error: the link ended',
      'settled with the link',
      'read after: Error: the link ended',
      'close after: done',
    ],
  },
};

test.each(Object.entries(table))('the radio, %s', async (name, expected) => {
  expect(await runChild<AdapterResult>('adapter.child.ts', [name], 30_000)).toEqual(expected);
});

test('a library that does not load is a fault with its remedy, and stopping leaves nothing', async () => {
  const scheduler = createDrivenScheduler();
  const told: string[] = [];
  const transport = createNobleTransport({
    scheduler,
    load: () => Promise.reject(new Error('No native build was found\nand much more')),
  });
  const stop = transport.start({
    radio: (state, fault) => told.push(`${state}/${fault?.code ?? ''}/${fault?.detail ?? ''}`),
    sighted: () => undefined,
  });
  await Promise.resolve();
  await Promise.resolve();
  transport.scan(true);
  await expect(transport.connect('anything', () => undefined)).rejects.toThrow('the radio is off');
  await stop();
  expect(told).toEqual([
    'starting//',
    'library missing/radio-library-missing/No native build was found',
  ]);
  expect(scheduler.waiting()).toEqual([]);
});
