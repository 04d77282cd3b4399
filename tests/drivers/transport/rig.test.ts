import { describe, expect, test } from 'vitest';
import { createDrivenScheduler } from '../../../core/scheduler.ts';
import type { Connection } from '../../../drivers/pads/ports.ts';
import { CORNER_PAD_UUIDS } from '../../../drivers/pads/protocol/cornerPad.ts';
import { createRigTransport } from '../../../drivers/pads/transport/rig.ts';
import { run } from '../pads/driven.ts';
import { createSoftPad } from '../pads/softPad.ts';

const setUp = () => {
  const scheduler = createDrivenScheduler();
  const devices = ['a', 'b'].map((key) => createSoftPad({ scheduler, key }));
  const transport = createRigTransport(devices, scheduler);
  const log: string[] = [];
  const stop = transport.start({
    radio: (state) => log.push(state),
    sighted: ({ key }) => log.push(key),
  });
  const connect = async (key: string): Promise<Connection> => {
    const promise = transport.connect(key, () => log.push(`lost ${key}`));
    await run(scheduler, 0.2);
    return promise;
  };
  return { scheduler, devices, transport, log, stop, connect };
};

describe('the software radio', () => {
  test('is on, hears what is switched on and not connected, and only while it scans', async () => {
    const { scheduler, devices, transport, log, stop, connect } = setUp();
    await run(scheduler, 1);
    expect(log).toEqual(['on']);
    devices[1]?.switched(false);
    transport.scan(true);
    await run(scheduler, 0.5);
    expect(log).toEqual(['on', 'a', 'a']);
    devices[1]?.switched(true);
    await connect('a');
    log.length = 0;
    await run(scheduler, 0.5);
    expect(new Set(log)).toEqual(new Set(['b']));
    transport.scan(false);
    log.length = 0;
    await run(scheduler, 1);
    expect(log).toEqual([]);
    await stop();
    expect(log).toEqual(['lost a']);
    expect(scheduler.waiting().filter((name) => !name.startsWith('soft pad'))).toEqual([]);
  });

  test('one connect at a time; to what is switched off it lasts until it is given up', async () => {
    const { scheduler, devices, transport, stop } = setUp();
    devices[0]?.switched(false);
    let outcome = 'pending';
    transport
      .connect('a', () => undefined)
      .then(
        () => (outcome = 'connected'),
        (error: unknown) => (outcome = String(error)),
      );
    await run(scheduler, 60, 0.05);
    expect(outcome).toBe('pending');
    await expect(transport.connect('b', () => undefined)).rejects.toThrow('outstanding');
    transport.cancelConnect();
    await run(scheduler, 0.1);
    expect(outcome).toContain('given up');
    await stop();
  });

  test('what is sent arrives in order at connection events, each once, and nothing after the loss', async () => {
    const { scheduler, devices, log, stop, connect } = setUp();
    const connection = await connect('a');
    const arrivals: number[] = [];
    const subscribed = connection.subscribe(
      CORNER_PAD_UUIDS.service,
      CORNER_PAD_UUIDS.loads,
      (_bytes, at) => arrivals.push(at),
    );
    await run(scheduler, 2);
    await subscribed;
    // 20 notifications a second; arrivals lie on the grid of the 15 ms interval.
    expect(arrivals.length).toBeGreaterThanOrEqual(38);
    expect(arrivals.length).toBeLessThanOrEqual(40);
    const first = arrivals[0] ?? 0;
    for (const at of arrivals) {
      const events = (at - first) / 0.015;
      expect(Math.abs(events - Math.round(events))).toBeLessThan(1e-6);
    }
    devices[0]?.switched(false);
    const never = connection.read('180a', '2a25').catch((error: unknown) => String(error));
    await run(scheduler, 0.6);
    expect(log.at(-1)).toBe('lost a');
    expect(await never).toContain('link ended');
    const heard = arrivals.length;
    devices[0]?.switched(true);
    await run(scheduler, 1);
    expect(arrivals.length).toBe(heard);
    await expect(connection.discover()).rejects.toThrow('link ended');
    await stop();
  });

  test('what a device refuses is a rejection', async () => {
    const { scheduler, stop, connect } = setUp();
    const connection = await connect('a');
    const asked = Promise.allSettled([
      connection.write(CORNER_PAD_UUIDS.service, CORNER_PAD_UUIDS.control, Uint8Array.of(9)),
      connection.read('180a', '2a29'),
      connection.subscribe('180f', '2a1b', () => undefined),
      connection.write(CORNER_PAD_UUIDS.service, CORNER_PAD_UUIDS.control, Uint8Array.of(2, 5)),
    ]);
    await run(scheduler, 0.1);
    expect((await asked).map(({ status }) => status)).toEqual([
      'rejected',
      'rejected',
      'rejected',
      'fulfilled',
    ]);
    await stop();
  });
});
