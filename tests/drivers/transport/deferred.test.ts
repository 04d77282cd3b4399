import { expect, test } from 'vitest';
import { fault } from '../../../core/faults.ts';
import { createDrivenScheduler } from '../../../core/scheduler.ts';
import { second } from '../../../core/units.ts';
import type { Transport } from '../../../drivers/pads/ports.ts';
import { deferTransport } from '../../../drivers/pads/transport/deferred.ts';
import { createRigTransport } from '../../../drivers/pads/transport/rig.ts';
import { run } from '../pads/driven.ts';
import { createSoftPad } from '../pads/softPad.ts';

const failed = () => ({
  state: 'library missing' as const,
  fault: fault('radio-library-missing', second(0)),
});

test('a scan asked for before it is loaded begins when it is', async () => {
  const scheduler = createDrivenScheduler();
  const inner = createRigTransport([createSoftPad({ scheduler, key: 'a' })], scheduler);
  const loaded = Promise.withResolvers<Transport>();
  const transport = deferTransport(() => loaded.promise, failed);
  const log: string[] = [];
  const stop = transport.start({
    radio: (state) => log.push(state),
    sighted: ({ key }) => log.push(key),
  });
  transport.scan(true);
  await expect(transport.connect('a', () => undefined)).rejects.toThrow('not loaded');
  await run(scheduler, 1);
  expect(log).toEqual([]);
  loaded.resolve(inner);
  await run(scheduler, 0.3);
  expect(log).toContain('on');
  expect(log).toContain('a');
  await stop();
  expect(scheduler.waiting()).toEqual(['soft pad a']);
});

test('stopped before it is loaded: it is never started, and a late failure is not told', async () => {
  const scheduler = createDrivenScheduler();
  let starts = 0;
  for (const isGood of [true, false]) {
    const loaded = Promise.withResolvers<Transport>();
    const inner = createRigTransport([], scheduler);
    const transport = deferTransport(() => loaded.promise, failed);
    const told: string[] = [];
    const stopped = transport.start({
      radio: (state) => told.push(state),
      sighted: () => undefined,
    })();
    if (isGood)
      loaded.resolve({
        ...inner,
        start: (listener) => {
          starts++;
          return inner.start(listener);
        },
      });
    else loaded.reject(new Error('no binding'));
    await stopped;
    expect(told).toEqual([]);
  }
  expect(starts).toBe(0);
});
