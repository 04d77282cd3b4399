import { describe, expect, test } from 'vitest';
import { SAMPLE_FLAGS } from '../../../core/reading.ts';
import {
  CORNER_PAD_UUIDS,
  decodeRating,
  encodeCommand,
} from '../../../drivers/pads/protocol/cornerPad.ts';
import type { PadCommand } from '../../../drivers/pads/protocol/model.ts';
import {
  decodeBattery,
  decodeTemperature,
  decodeText,
} from '../../../drivers/pads/protocol/standard.ts';
import { item, listen, rigAt } from './listen.ts';

const { service, control, rating } = CORNER_PAD_UUIDS;
const setUp = () => {
  const made = rigAt({ seed: 61, noise: 'quiet' });
  const device = item(made.rig.devices, 0);
  return {
    ...made,
    device,
    packets: item(made.heard, 0).packets,
    command: (command: PadCommand) => device.write(service, control, encodeCommand(command)),
  };
};

describe('what a pad offers', () => {
  test('five devices, four corners and a spare, named by serial number', () => {
    const { rig } = rigAt({ seed: 1, noise: 'normal' });
    expect(rig.devices.map((device) => device.name)).toEqual([
      'Corner pad 1041',
      'Corner pad 1042',
      'Corner pad 1043',
      'Corner pad 1044',
      'Corner pad 1047',
    ]);
    expect(rig.practice.pads).toEqual({
      LF: 'MP-1041',
      RF: 'MP-1042',
      LR: 'MP-1043',
      RR: 'MP-1044',
    });
    expect(new Set(rig.devices.map((device) => device.key)).size).toBe(5);
    for (const device of rig.devices) {
      expect(device.services).toEqual([service]);
      expect(device.audible()).toBe(true);
      expect(device.signal()).toBeGreaterThan(-75);
      expect(device.signal()).toBeLessThan(-45);
    }
  });

  test('everything said readable can be read, and nothing else', () => {
    const { device } = setUp();
    for (const found of device.characteristics)
      expect(device.read(found.service, found.uuid) !== null, found.uuid).toBe(found.canRead);
    expect(device.read('180a', '2a19')).toBeNull();
    expect(device.read('1800', '2a00')).toBeNull();
  });

  test('identity, rating, battery and temperature', () => {
    const { device, run } = setUp();
    run(1);
    const read = (of: string, uuid: string): Uint8Array =>
      device.read(of, uuid) ?? new Uint8Array();
    expect(decodeText(read('180a', '2a25'))).toBe('MP-1041');
    expect(decodeText(read('180a', '2a29'))).toBe('Millpond practice rig');
    expect(decodeText(read('180a', '2a24'))).toBe('Practice pad 500');
    expect(decodeText(read('180a', '2a26'))).toBe('1.0.0');
    expect(decodeRating(read(service, rating))).toEqual({
      ratedLoad: 500,
      countsAtRatedLoad: 4194304,
      resolution: 1,
    });
    expect(decodeBattery(read('180f', '2a19'))).toBeGreaterThan(50);
    expect(Math.abs((decodeTemperature(read('181a', '2a6e')) ?? NaN) - 19)).toBeLessThan(5);
  });
});

describe('commands', () => {
  test.each([
    [10, 1],
    [20, 1],
    [40, 2],
    [80, 2],
  ] as const)('%s Hz, %s to a notification', (rate, batch) => {
    const { run, packets, command } = setUp();
    run(2);
    expect(command({ do: 'set rate', rate })).toBe(true);
    const before = item(packets, -1);
    packets.splice(0);
    run(10);
    const ofRate = packets.filter((packet) => packet.rate === rate);
    expect(Math.abs(ofRate.length - (10 * rate) / batch)).toBeLessThanOrEqual(2);
    expect(ofRate.slice(1).every((packet) => packet.counts.length === batch)).toBe(true);
    // Numbers and clock go on over the change.
    let number = before.sequence ?? NaN;
    let samples = before.counts.length;
    for (const packet of packets) {
      expect(packet.sequence).toBe((number + samples) & 0xffff);
      number = packet.sequence ?? NaN;
      samples = packet.counts.length;
    }
    const [a, b] = [item(ofRate, 0), item(ofRate, -1)];
    const spacing =
      ((b.clockMs ?? NaN) - (a.clockMs ?? NaN)) /
      (((b.sequence ?? NaN) - (a.sequence ?? NaN) + 0x10000) % 0x10000);
    expect(spacing).toBeCloseTo(1000 / rate, 1);
  });

  test('identify blinks for the time asked', () => {
    const { rig, run, command } = setUp();
    const blinks = (): boolean[] => rig.truth().pads.map((pad) => pad.blinks);
    run(1);
    expect(blinks()).toEqual([false, false, false, false, false]);
    expect(command({ do: 'identify', seconds: 3 })).toBe(true);
    run(2.9);
    expect(blinks()).toEqual([true, false, false, false, false]);
    run(0.2);
    expect(blinks()).toEqual([false, false, false, false, false]);
  });

  test('reset clock begins the clock again and leaves the numbers', () => {
    const { run, packets, command } = setUp();
    run(2.003);
    const before = item(packets, -1);
    expect(command({ do: 'reset clock' })).toBe(true);
    packets.splice(0);
    run(1);
    const after = packets.findIndex((packet) => (packet.clockMs ?? NaN) < 50);
    expect(after).toBeGreaterThanOrEqual(0);
    expect(after).toBeLessThanOrEqual(1);
    expect(packets.every((packet) => (packet.clockMs ?? NaN) < 2 ** 31)).toBe(true);
    expect(item(packets, 0).sequence).toBe(
      ((before.sequence ?? NaN) + before.counts.length) & 0xffff,
    );
    expect(item(packets, -1).clockMs).toBeGreaterThan(950);
  });

  test('what the profile does not know is refused', () => {
    const { device } = setUp();
    expect(device.write(service, control, Uint8Array.of(1, 50))).toBe(false);
    expect(device.write(service, control, Uint8Array.of(9))).toBe(false);
    expect(device.write(service, rating, Uint8Array.of(1, 80))).toBe(false);
  });
});

describe('what goes wrong, by script', () => {
  test('a pad fades for four seconds: it is not heard, its numbers go on', () => {
    const { heard, run, rig } = rigAt({
      seed: 62,
      noise: 'quiet',
      script: [{ at: 5, do: 'fade', pad: 'LR', seconds: 4 }],
    });
    const device = item(rig.devices, 2);
    run(5.5);
    expect(device.audible()).toBe(false);
    expect(item(rig.devices, 0).audible()).toBe(true);
    run(4);
    expect(device.audible()).toBe(true);
    const { packets } = item(heard, 2);
    const steps = packets.slice(1).map((packet, i) => ({
      number: ((packet.sequence ?? NaN) - (item(packets, i).sequence ?? NaN) + 0x10000) % 0x10000,
      time: packet.at - item(packets, i).at,
    }));
    const holes = steps.filter((step) => step.number !== 2);
    expect(holes).toHaveLength(1);
    expect(Math.abs(item(holes, 0).number - 322)).toBeLessThanOrEqual(2);
    expect(item(holes, 0).time).toBeCloseTo(4, 1);
    expect(item(heard, 0).packets.length).toBeGreaterThan(375);
  });

  test('low battery is said in the status and by the battery, an empty one is silence', () => {
    const { heard, run, rig } = rigAt({
      seed: 63,
      noise: 'quiet',
      script: [
        { at: 4, do: 'charge', pad: 'RF', percent: 0 },
        { at: 2, do: 'charge', pad: 'RF', percent: 9 },
      ],
    });
    run(1.9);
    const { packets } = item(heard, 1);
    expect(packets.every((packet) => packet.flags === 0)).toBe(true);
    run(1.9);
    expect(item(packets, -1).flags).toBe(SAMPLE_FLAGS.lowBattery);
    expect(decodeBattery(item(rig.devices, 1).read('180f', '2a19') ?? new Uint8Array())).toBe(9);
    run(0.3);
    const count = packets.length;
    expect(item(rig.devices, 1).audible()).toBe(false);
    run(5);
    expect(packets).toHaveLength(count);
  });

  test('after a restart numbers and clock begin again, said once', () => {
    const { rig, scheduler, heard, run } = rigAt({ seed: 64, noise: 'quiet' });
    run(3);
    rig.happen({ do: 'restart', pad: 'RR' });
    const device = item(rig.devices, 3);
    const before = item(heard, 3).packets.length;
    run(0.5);
    expect(device.audible()).toBe(false);
    run(1);
    expect(device.audible()).toBe(true);
    // The link is gone with the power: nothing comes until somebody subscribes again.
    expect(item(heard, 3).packets).toHaveLength(before);
    const again = listen(device, scheduler);
    run(2);
    expect(again.packets.map((packet) => packet.flags & SAMPLE_FLAGS.restarted)).toEqual([
      SAMPLE_FLAGS.restarted,
      ...again.packets.slice(1).map(() => 0),
    ]);
    expect(item(again.packets, 0).clockMs).toBeLessThan(1000);
    expect(item(again.packets, 0).sequence).toBeLessThan(80);
  });

  test('a spike, the car and somebody leaning follow the script too', () => {
    const { rig, heard, run } = rigAt({
      seed: 65,
      noise: 'quiet',
      script: [
        { at: 1, do: 'spike', pad: 'spare', mass: 30 },
        { at: 2, do: 'lower' },
        { at: 7, do: 'turn', corner: 'LF', turns: -0.5 },
        { at: 8, do: 'lean', on: true },
        { at: 12, do: 'lean', on: false },
        { at: 13, do: 'raise' },
      ],
    });
    run(10);
    expect(rig.practice.state()).toEqual({
      car: 'on the pads',
      leaning: true,
      masses: {},
      stack: null,
      runs: 0,
      turns: { LF: -0.5, RF: 0, LR: 0, RR: 0 },
    });
    run(9);
    expect(rig.practice.state().car).toBe('raised');
    const counts = item(heard, 4).packets.flatMap((packet) => packet.counts);
    const middle = counts.toSorted((a, b) => a - b)[counts.length >> 1] ?? NaN;
    expect(counts.filter((count) => count - middle > 8388.608 * 25)).toHaveLength(1);
  });
});

describe('subscriptions', () => {
  test('one at a time: a new one takes the place of the old, whose end then changes nothing', () => {
    const { device, scheduler, heard, run } = setUp();
    run(1);
    const first = item(heard, 0);
    const count = first.packets.length;
    const second = listen(device, scheduler);
    run(1);
    first.stop();
    run(1);
    expect(first.packets).toHaveLength(count);
    expect(second.packets.length).toBeGreaterThan(78);
    second.stop();
    const after = second.packets.length;
    run(1);
    expect(second.packets).toHaveLength(after);
  });
});
