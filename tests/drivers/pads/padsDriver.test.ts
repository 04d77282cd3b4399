import { describe, expect, test } from 'vitest';
import { createDrivenScheduler } from '../../../core/scheduler.ts';
import { second } from '../../../core/units.ts';
import type { TransportListener } from '../../../drivers/pads/ports.ts';
import { createPadsDriver, MOST_DEVICES } from '../../../drivers/pads/padsDriver.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';
import { createRigTransport } from '../../../drivers/pads/transport/rig.ts';
import { listen, run } from './driven.ts';
import { createSoftPad, PAD_CHARACTERISTICS, type SoftPadOptions } from './softPad.ts';

const SEED = 20_260_317;

const bench = (pads: readonly Omit<SoftPadOptions, 'scheduler'>[]) => {
  const scheduler = createDrivenScheduler();
  const devices = pads.map((options) => createSoftPad({ scheduler, ...options }));
  const transport = createRigTransport(devices, scheduler);
  const driver = createPadsDriver({ transport, scheduler, random: createRandom(SEED).uniform });
  return { scheduler, devices, transport, driver, heard: listen(driver) };
};

/** A loss of one notification in fifty, a repeat in seventy, one held back in ninety. */
const harsh = (seed: number) => {
  const random = createRandom(seed).uniform;
  return (): number => {
    const chance = random();
    if (chance < 1 / 50) return 0;
    if (chance < 1 / 50 + 1 / 70) return 2;
    return chance < 1 / 50 + 1 / 70 + 1 / 90 ? -1 : 1;
  };
};

describe('four pads, the whole chain', () => {
  test('60 s on a bad link: every sample is accounted for, in order, once', async () => {
    const { scheduler, devices, heard } = bench(
      ['a', 'b', 'c', 'd'].map((key, index) => ({ key, fate: harsh(SEED + index) })),
    );
    await run(scheduler, 60);
    await heard.stop();
    for (const device of devices) {
      const status = heard.pads.find((pad) => pad.key === device.key);
      const serial = `SN-${device.key}`;
      const samples = heard.samples.get(serial) ?? [];
      expect(status).toMatchObject({
        serial,
        phase: 'live',
        model: 'corner-pad',
        firmware: '1.0.3',
      });
      if (!status) continue;
      // What is on its way when time stops: at most two notifications of four, or one lost just then.
      const open = device.converted() - status.received - status.missing;
      expect(open).toBeGreaterThanOrEqual(0);
      expect(open).toBeLessThanOrEqual(24);
      // The newest sample waits in the filter for its right neighbour.
      expect(samples.length).toBe(status.received - 1);
      expect(status.missing).toBeGreaterThan(40);
      expect(status.duplicates).toBeGreaterThan(20);
      expect(status.late).toBeGreaterThan(20);
      const gaps = heard.gaps.filter((gap) => gap.serial === serial);
      expect(gaps.reduce((sum, gap) => sum + (gap.missing ?? 0), 0)).toBe(status.missing);
      for (let k = 1; k < samples.length; k++) {
        const [before, after] = [samples[k - 1], samples[k]];
        if (!before || !after) throw new Error('unreachable');
        expect(after.index).toBeGreaterThan(before.index);
        expect(after.t).toBeGreaterThan(before.t);
      }
      // Counts say which conversion each sample is: 1000 + 7 n mod 11, as the pad was told.
      const first = samples[0];
      if (!first) throw new Error('no samples');
      const offset = [...Array(11).keys()].find((k) =>
        samples.every(({ index, raw }) => raw === 1000 + (((index + k) * 7) % 11)),
      );
      expect(offset).toBeDefined();
      expect(status.rate).toBeCloseTo(80, 1);
    }
    expect(scheduler.waiting().filter((name) => !name.startsWith('soft pad'))).toEqual([]);
  });

  test('status carries battery, temperature, signal and rating', async () => {
    const { scheduler, heard } = bench([{ key: 'a' }]);
    await run(scheduler, 4);
    expect(heard.pads).toHaveLength(1);
    expect(heard.pads[0]).toMatchObject({
      name: 'Pad a',
      battery: 77,
      temperature: 21.5,
      signal: -60,
      rating: { ratedLoad: 500, countsAtRatedLoad: 4_194_304, resolution: 1 },
      faults: [],
    });
    const lists = heard.events.filter((event) => event.kind === 'pads').length;
    expect(lists).toBeLessThanOrEqual(16);
    await heard.stop();
  });

  test('cut for 3 s: it comes back by itself, once per notification, the others undisturbed', async () => {
    const { scheduler, devices, heard } = bench(['a', 'b', 'c', 'd'].map((key) => ({ key })));
    const [a, b] = devices;
    if (!a || !b) throw new Error('unreachable');
    await run(scheduler, 12);
    for (let cut = 1; cut <= 3; cut++) {
      a.switched(false);
      await run(scheduler, 3);
      expect(heard.pads.find((pad) => pad.key === 'a')?.phase).not.toBe('live');
      a.switched(true);
      await run(scheduler, 12);
      expect(heard.pads.find((pad) => pad.key === 'a')?.phase).toBe('live');
      expect(a.subscriptions).toBe(1 + cut);
    }
    await heard.stop();
    const gaps = heard.gaps.filter((gap) => gap.serial === 'SN-a');
    expect(gaps.map((gap) => gap.reason)).toEqual(['link', 'link', 'link']);
    for (const gap of gaps) {
      expect(gap.to - gap.from).toBeGreaterThan(2.9);
      expect(gap.to - gap.from).toBeLessThan(4.5);
      // 80 Hz by the pad's numbers: what is missing is what the time says, within a packet.
      expect(Math.abs((gap.missing ?? 0) - (gap.to - gap.from) * 80)).toBeLessThanOrEqual(4);
    }
    const indices = (heard.samples.get('SN-a') ?? []).map((sample) => sample.index);
    expect(new Set(indices).size).toBe(indices.length);
    expect(heard.gaps.filter((gap) => gap.serial !== 'SN-a')).toEqual([]);
    expect(b.subscriptions).toBe(1);
    expect(heard.faults.map((fault) => fault.code)).toContain('pad-lost');
  });

  test('a pad that restarts is followed, with a hole of unknown size and its fault', async () => {
    const { scheduler, devices, heard } = bench([{ key: 'a' }]);
    await run(scheduler, 5);
    devices[0]?.switched(false);
    await run(scheduler, 1);
    devices[0]?.restart();
    devices[0]?.switched(true);
    await run(scheduler, 5);
    await heard.stop();
    expect(heard.gaps).toHaveLength(1);
    expect(heard.gaps[0]).toMatchObject({ reason: 'restarted', missing: null });
    expect(heard.faults.map((fault) => fault.code)).toContain('pad-restarted');
    expect(heard.pads[0]?.phase).toBe('live');
    expect(heard.pads[0]?.rate).toBeCloseTo(80, 0);
  });
});

describe('faults of a pad', () => {
  test('no serial number: refused', async () => {
    const { scheduler, heard } = bench([{ key: 'a', serial: null }]);
    await run(scheduler, 5);
    expect(heard.pads[0]).toMatchObject({ phase: 'refused', serial: null });
    expect(heard.pads[0]?.faults[0]?.code).toBe('pad-serial-missing');
    expect(heard.samples.size).toBe(0);
    await heard.stop();
  });

  test('no stream that is known: refused, said once, and looked at again', async () => {
    const characteristics = PAD_CHARACTERISTICS.filter((one) => !one.canNotify);
    const { scheduler, heard } = bench([{ key: 'a', characteristics }]);
    await run(scheduler, 90);
    expect(heard.pads[0]).toMatchObject({ phase: 'refused', model: null });
    expect(heard.faults.map(({ code, subject }) => [code, subject])).toEqual([
      ['pad-not-understood', heard.pads[0]?.name],
    ]);
    await heard.stop();
  });

  test('given the firmware that its model has, a refused pad comes back by itself', async () => {
    const characteristics = PAD_CHARACTERISTICS.filter((one) => !one.canNotify);
    const { scheduler, heard } = bench([{ key: 'a', characteristics }]);
    await run(scheduler, 5);
    expect(heard.pads[0]?.phase).toBe('refused');
    characteristics.push(...PAD_CHARACTERISTICS.filter((one) => one.canNotify));
    await run(scheduler, 40);
    expect(heard.pads[0]?.phase).toBe('live');
    await heard.stop();
  });

  test('the same serial number twice: the second waits until the first is gone', async () => {
    const { scheduler, devices, heard } = bench([
      { key: 'a', serial: 'TWIN' },
      { key: 'b', serial: 'TWIN' },
    ]);
    await run(scheduler, 5);
    expect(heard.pads.map((pad) => pad.phase)).toEqual(['live', 'refused']);
    expect(heard.pads[1]).toMatchObject({ rate: null, received: 0 });
    expect(heard.faults.map((fault) => [fault.code, fault.subject])).toEqual([
      ['pad-serial-twice', 'TWIN'],
    ]);
    devices[0]?.switched(false);
    await run(scheduler, 5);
    expect(heard.pads.filter((pad) => pad.phase === 'live').map((pad) => pad.key)).toEqual(['b']);
    await heard.stop();
  });

  test('connected and silent: the link is made anew', async () => {
    const { scheduler, devices, heard } = bench([{ key: 'a', fate: (n) => (n < 100 ? 1 : 0) }]);
    await run(scheduler, 12);
    expect(heard.faults.map((fault) => fault.code)).toContain('pad-silent');
    expect(devices[0]?.subscriptions).toBeGreaterThan(1);
    await heard.stop();
  });

  test('a number without any noise: stuck, and over when it moves', async () => {
    const { scheduler, heard } = bench([
      { key: 'a', counts: (n) => (n > 200 && n < 600 ? 5000 : 5000 + (n % 3)) },
    ]);
    await run(scheduler, 5);
    expect(heard.faults.map((fault) => fault.code)).toContain('pad-stuck');
    await run(scheduler, 80);
    expect(heard.pads[0]?.faults).toEqual([]);
    await heard.stop();
  });
});

describe('a hostile device nearby', () => {
  test('fills the air with invented addresses: live pads go on, memory is bounded, a pad still gets in', async () => {
    const scheduler = createDrivenScheduler();
    const devices = ['a', 'b', 'c', 'd', 'late'].map((key) => createSoftPad({ scheduler, key }));
    const late = devices[4];
    late?.switched(false);
    const rig = createRigTransport(devices, scheduler);
    let air: TransportListener | null = null;
    let giveUp: ((why: Error) => void) | null = null;
    const driver = createPadsDriver({
      transport: {
        ...rig,
        start: (to) => {
          air = to;
          return rig.start(to);
        },
        // An invented address never answers.
        connect: (key, lost) => {
          if (!key.startsWith('invented')) return rig.connect(key, lost);
          const { promise, reject } = Promise.withResolvers<never>();
          giveUp = reject;
          return promise;
        },
        cancelConnect: () => {
          giveUp?.(new Error('given up'));
          giveUp = null;
          rig.cancelConnect();
        },
      },
      scheduler,
      random: createRandom(SEED).uniform,
    });
    const heard = listen(driver);
    await run(scheduler, 5);
    const name = devices[0]?.name ?? '';
    const services = devices[0]?.services ?? [];
    const flood = scheduler.every('test: flood', second(0.05), () =>
      air?.sighted({ key: `invented ${scheduler.now()}`, name, services, signal: -40 }),
    );
    await run(scheduler, 20);
    expect(heard.pads).toHaveLength(MOST_DEVICES);
    late?.switched(true);
    await run(scheduler, 120);
    flood();
    const live = heard.pads.filter(({ phase }) => phase === 'live').map(({ key }) => key);
    expect(live.toSorted()).toEqual(['a', 'b', 'c', 'd', 'late']);
    expect(heard.pads.length).toBeLessThanOrEqual(MOST_DEVICES);
    for (const key of ['a', 'b', 'c', 'd'])
      expect(heard.gaps.filter(({ serial }) => serial === `SN-${key}`)).toEqual([]);
    await heard.stop();
  });

  test('takes a live pad’s serial number: it is refused, and the pad’s reading is its own', async () => {
    const { scheduler, heard } = bench([
      { key: 'a', serial: 'LF-1', counts: () => 1000 },
      { key: 'b', serial: 'LF-1', counts: () => 9000 },
    ]);
    await run(scheduler, 10);
    expect(heard.pads.map((pad) => pad.phase)).toEqual(['live', 'refused']);
    const counts = new Set(heard.samples.get('LF-1')?.map((sample) => sample.raw));
    expect([...counts]).toEqual([1000]);
    await heard.stop();
  });
});

describe('commands', () => {
  test('identify and rate reach the pad; what cannot be is an outcome, not a throw', async () => {
    const { scheduler, devices, driver, heard } = bench([{ key: 'a' }]);
    await run(scheduler, 2);
    const asked = Promise.all([
      driver.identify('SN-a'),
      driver.setRate('SN-a', 40),
      driver.setRate('SN-a', 50),
      driver.identify('SN-nobody'),
    ]);
    await run(scheduler, 1);
    const outcomes = (await asked).map((outcome) => (outcome.ok ? 'ok' : outcome.fault.code));
    expect(outcomes).toEqual(['ok', 'ok', 'pad-command-refused', 'pad-absent']);
    expect(devices[0]?.commands).toEqual(['identify', 'set rate']);
    await heard.stop();
  });
});

describe('the radio', () => {
  test('pulled out and plugged in again: told, and the pads come back by themselves', async () => {
    const scheduler = createDrivenScheduler();
    const devices = ['a', 'b'].map((key) => createSoftPad({ scheduler, key }));
    const inner = createRigTransport(devices, scheduler);
    let radio: TransportListener['radio'] = () => undefined;
    const lostLinks: (() => void)[] = [];
    const driver = createPadsDriver({
      transport: {
        ...inner,
        start: (listener) => {
          radio = (state, fault) => listener.radio(state, fault);
          return inner.start(listener);
        },
        connect: async (key, lost) => {
          const connection = await inner.connect(key, lost);
          lostLinks.push(() => void connection.close());
          return connection;
        },
      },
      scheduler,
      random: createRandom(SEED).uniform,
    });
    const heard = listen(driver);
    await run(scheduler, 3);
    expect(heard.pads.map((pad) => pad.phase)).toEqual(['live', 'live']);
    for (const lose of lostLinks.splice(0)) lose();
    radio('absent', null);
    await run(scheduler, 3);
    expect(heard.pads.map((pad) => pad.phase)).toEqual(['found', 'found']);
    radio('on', null);
    await run(scheduler, 5);
    expect(heard.pads.map((pad) => pad.phase)).toEqual(['live', 'live']);
    expect(heard.gaps.map((gap) => gap.reason)).toEqual(['link', 'link']);
    const states = heard.events.flatMap((event) => (event.kind === 'radio' ? [event.state] : []));
    expect(states).toEqual(['on', 'absent', 'on']);
    await heard.stop();
    expect(scheduler.waiting().filter((name) => !name.startsWith('soft pad'))).toEqual([]);
  });
});
