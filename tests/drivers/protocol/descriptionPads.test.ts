import { describe, expect, test } from 'vitest';
import type { PadsEvent } from '../../../core/bench/ports.ts';
import { createDrivenScheduler, type DrivenScheduler } from '../../../core/scheduler.ts';
import { second } from '../../../core/units.ts';
import { createOpenPads } from '../../../drivers/pads/openPads.ts';
import type { CharacteristicFound, SoftDevice } from '../../../drivers/pads/ports.ts';
import { createRigTransport } from '../../../drivers/pads/transport/rig.ts';
import { listen, run } from '../pads/driven.ts';
import { pageTexts } from './descriptionPage.ts';

/** A pad that only the page's description `force-batches` knows, through the whole driver. */

const SEED = 99;
const uuid = (short: string): string => `6a3e${short}52c44d0f8a5b90d7c6b1e2f4`;

const found = (
  service: string,
  of: string,
  can: Partial<CharacteristicFound>,
): CharacteristicFound => ({
  service,
  uuid: of,
  canRead: false,
  canWrite: false,
  canNotify: false,
  ...can,
});

interface ForcePad extends SoftDevice {
  readonly log: string[];
}

/** Two samples each 25 ms: 1000 N and then 0.002 N more with every sample. */
const createForcePad = (scheduler: DrivenScheduler, takesStart = true): ForcePad => {
  const log: string[] = [];
  let send: ((bytes: Uint8Array) => void) | null = null;
  let isStarted = false;
  let number = 0;
  scheduler.every('force pad', second(0.025), () => {
    if (!send || !isStarted) return;
    const bytes = new Uint8Array(17);
    const view = new DataView(bytes.buffer);
    view.setUint8(0, 0xa5);
    view.setUint16(1, number & 0xffff);
    view.setUint32(3, Math.round(number * 12.5));
    // 80 Hz, not saturated (bit 4 set)
    view.setUint8(7, 0b0001_0100);
    view.setInt32(8, 1_000_000 + 2 * number);
    view.setInt32(12, 1_000_002 + 2 * number);
    let sum = 0;
    for (let at = 1; at < 16; at++) sum += view.getUint8(at);
    view.setUint8(16, -sum & 0xff);
    number += 2;
    send(bytes);
  });
  return {
    key: 'f1',
    name: 'Force pad',
    services: ['fff0'],
    characteristics: [
      found('180a', '2a25', { canRead: true }),
      found(uuid('0001'), uuid('0002'), { canNotify: true }),
      found(uuid('0001'), uuid('0003'), { canWrite: true }),
      found(uuid('0001'), uuid('0004'), { canRead: true }),
    ],
    log,
    audible: () => true,
    read: (_service, of) => {
      if (of === '2a25') return new TextEncoder().encode('FP-1');
      // 0x1388 = 5000 tenths of a kilogram
      return of === uuid('0004') ? Uint8Array.of(0x13, 0x88) : null;
    },
    write: (_service, of, bytes) => {
      log.push(`write ${of.slice(4, 8)}: ${[...bytes].join(' ')}`);
      if (bytes.length === 1 && bytes[0] === 1) isStarted = takesStart;
      return takesStart;
    },
    subscribe: (_service, of, to) => {
      log.push(`subscribe ${of.slice(4, 8)}`);
      send = to;
      return () => {
        send = null;
      };
    },
    signal: () => -50,
  };
};

const bench = (descriptions: readonly string[], takesStart = true) => {
  const scheduler = createDrivenScheduler();
  const device = createForcePad(scheduler, takesStart);
  const open = createOpenPads({
    scheduler,
    seed: SEED,
    bluetooth: () => createRigTransport([device], scheduler),
  });
  const { pads } = open('bluetooth', descriptions);
  return { scheduler, device, pads, heard: listen(pads) };
};

const force = pageTexts.get('force-batches') ?? '';

describe('a described pad', () => {
  test('is recognised, rated, started after subscribing, and streams numbered samples', async () => {
    const { scheduler, device, pads, heard } = bench([force]);
    await run(scheduler, 4);
    expect(heard.pads).toMatchObject([
      {
        serial: 'FP-1',
        model: 'force-batches',
        phase: 'live',
        // 500 kg in milligrams; a step of 0.001 N is 101.97 mg of standard gravity
        rating: { ratedLoad: 500, countsAtRatedLoad: 500_000_000, resolution: 102 },
        missing: 0,
        faults: [],
      },
    ]);
    expect(device.log).toEqual(['subscribe 0002', 'write 0003: 1']);
    const samples = heard.samples.get('FP-1') ?? [];
    expect(samples.length).toBeGreaterThan(150);
    // 1000 N / 9.80665 m/s² = 101.971 621 298 kg (1/9.80665 = 0.101971621297793)
    expect(samples[0]?.raw).toBe(101_971_621);
    samples.forEach(({ index, raw }) => {
      const grams = (1000 + 0.002 * index) * 101.971621297793;
      expect(Math.abs(raw - grams * 1000)).toBeLessThan(0.51);
    });
    const answers = Promise.all([
      pads.setRate('FP-1', 40),
      pads.identify('FP-1'),
      pads.setRate('FP-1', 33),
    ]);
    await run(scheduler, 1);
    expect(await answers).toMatchObject([
      { ok: true },
      { ok: true },
      { ok: false, fault: { code: 'pad-command-refused' } },
    ]);
    expect(device.log.slice(2)).toEqual(['write 0003: 2 1', 'write 0003: 3 10']);
    await heard.stop();
    expect(scheduler.waiting()).toEqual(['force pad']);
  });

  test('a start-up write that is refused ends the link with its reason, and is tried again', async () => {
    const { scheduler, device, heard } = bench([force], false);
    await run(scheduler, 4);
    expect(heard.faults[0]).toMatchObject({ code: 'pad-step-late', subject: 'FP-1' });
    expect(heard.faults[0]?.detail).toMatch(/^start-up write to 6a3e0003/);
    expect(heard.pads[0]?.phase).not.toBe('live');
    expect(device.log.filter((line) => line.startsWith('write')).length).toBeGreaterThan(1);
    expect(heard.samples.size).toBe(0);
    await heard.stop();
  });

  test('without its description it is no pad; a bad description is told, with its place', async () => {
    const { scheduler, device, heard } = bench([force.replace('"width": 4', '"width": 9'), '{']);
    await run(scheduler, 3);
    expect(heard.pads).toEqual([]);
    expect(device.log).toEqual([]);
    const faults = heard.events.filter(
      (event): event is Extract<PadsEvent, { kind: 'fault' }> => event.kind === 'fault',
    );
    expect(faults.map(({ fault }) => [fault.code, fault.subject, fault.detail])).toEqual([
      [
        'pad-description-unusable',
        'pad description 1',
        'payload.fields[2].width: write a whole number from 1 to 4',
      ],
      [
        'pad-description-unusable',
        'pad description 2',
        expect.stringMatching(/^text: correct the JSON: /),
      ],
    ]);
    await heard.stop();
  });
});
