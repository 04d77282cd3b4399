import { describe, expect, test } from 'vitest';
import { statics } from '../../../core/adjust/statics.ts';
import { CORNERS, inOrder, perCorner } from '../../../core/corners.ts';
import type { Scheduler } from '../../../core/scheduler.ts';
import { EXAMPLE_CAR, EXAMPLE_CAR_MASS } from '../../../core/sheet/car.ts';
import { kilogram, metre, metrePerSecond2, second, STANDARD_GRAVITY } from '../../../core/units.ts';
import { createRig } from '../../../drivers/pads/rig/rig.ts';
import { item, listen, rigAt } from './listen.ts';

const COUNTS_PER_KG = 8388.608;
const flat = (lists: readonly { readonly counts: readonly number[] }[]): number[] =>
  lists.flatMap((packet) => packet.counts);
const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b) / values.length;

describe('the car on the rig', () => {
  test('what the pads say is what stands on them, zero and span error taken out', () => {
    const { rig, heard, run } = rigAt({ seed: 12, noise: 'normal' });
    run(5);
    const empty = heard.map(({ packets }) => mean(flat(packets)));
    rig.practice.lower();
    run(20);
    heard.forEach(({ packets }) => packets.splice(0));
    run(10);
    const truth = rig.truth();
    const loads = [...inOrder(truth.loads), 0];
    heard.forEach(({ packets }, i) => {
      const span = COUNTS_PER_KG * (1 + item(truth.pads, i).spanError);
      const kg = (mean(flat(packets)) - item(empty, i)) / span;
      // Creep (0.02 % at most), temperature, wander of the zero (6 g) and 800 samples of 5 g noise.
      expect(
        Math.abs(kg - item(loads, i) / STANDARD_GRAVITY),
        item(truth.pads, i).name,
      ).toBeLessThan(0.08);
    });
    const sum = loads.reduce((a, b) => a + b);
    expect(sum / truth.gravity).toBeCloseTo(EXAMPLE_CAR_MASS.mass, 6);
  });

  test('without friction it rests at the statics of its seats and pad heights', () => {
    for (const seed of [1, 2, 3]) {
      const { rig, run } = rigAt({ seed, noise: 'quiet', friction: 0 });
      rig.practice.lower();
      run(15);
      const truth = rig.truth();
      const { loads } = statics(
        {
          car: EXAMPLE_CAR,
          mass: kilogram(EXAMPLE_CAR_MASS.mass),
          frontShare: EXAMPLE_CAR_MASS.frontShare,
          cgLeft: metre(EXAMPLE_CAR_MASS.cgLeft),
          gravity: metrePerSecond2(truth.gravity),
        },
        { seats: truth.seats, pads: truth.padHeights, bars: 'off' },
      );
      for (const corner of CORNERS) {
        expect(Math.abs(truth.loads[corner] - loads[corner]), `seed ${seed}`).toBeLessThan(0.01);
        expect(Math.abs(truth.padHeights[corner])).toBeLessThanOrEqual(1e-4);
      }
      const cross = (loads.RF + loads.LR) / inOrder(loads).reduce<number>((a, b) => a + b, 0);
      // Slightly wrong, so that there is something to adjust; pad heights of 0.1 mm move it a
      // little.
      expect(cross).toBeGreaterThan(0.485);
      expect(cross).toBeLessThan(0.4975);
    }
  });

  test('raised again every pad shows its empty counts, within creep and wander', () => {
    const { rig, heard, run } = rigAt({ seed: 4, noise: 'quiet' });
    run(5);
    const empty = heard.map(({ packets }) => mean(flat(packets)));
    rig.practice.lower();
    run(15);
    rig.practice.raise();
    run(6);
    expect(rig.practice.state().car).toBe('raised');
    expect(rig.truth().loads).toEqual(perCorner(() => 0));
    heard.forEach(({ packets }) => packets.splice(0));
    run(5);
    heard.forEach(({ packets }, i) => {
      expect(Math.abs(mean(flat(packets)) - item(empty, i)) / COUNTS_PER_KG).toBeLessThan(0.03);
    });
  });
});

describe('the stream', () => {
  test('every notification decodes, numbers go on without a hole at 80 Hz, two samples each', () => {
    const { heard, run } = rigAt({ seed: 21, noise: 'quiet' });
    run(30);
    for (const { packets, undecoded } of heard) {
      expect(undecoded).toEqual([]);
      packets.forEach((packet, i) => {
        expect(packet.counts).toHaveLength(2);
        expect(packet.rate).toBe(80);
        if (i > 0)
          expect(packet.sequence).toBe(((item(packets, i - 1).sequence ?? NaN) + 2) & 0xffff);
      });
      expect(Math.abs(packets.length - 30 * 40)).toBeLessThanOrEqual(1);
    }
  });

  test('pad clocks run true within 40 ppm, each its own, out of step with one another', () => {
    const { rig, heard, run } = rigAt({ seed: 22, noise: 'quiet' });
    run(600);
    const phases: number[] = [];
    heard.forEach(({ packets }, i) => {
      const [first, last] = [item(packets, 0), item(packets, -1)];
      const pad = ((last.clockMs ?? NaN) - (first.clockMs ?? NaN)) / 1000;
      const samples = ((last.sequence ?? NaN) - (first.sequence ?? NaN) + 0x10000) % 0x10000;
      // The pad samples at 80 Hz by its own clock.
      expect(Math.abs(pad - samples / 80)).toBeLessThan(0.0011);
      const host = last.at - first.at;
      const error = item(rig.truth().pads, i).clockError;
      // Arrivals are good to a tick of 10 ms in 600 s: 17 ppm each end.
      expect(Math.abs(pad / host - 1 - error)).toBeLessThan(35e-6);
      expect(Math.abs(error)).toBeLessThanOrEqual(40e-6);
      phases.push((first.clockMs ?? NaN) % 12.5);
    });
    expect(new Set(phases.map((phase) => phase.toFixed(1))).size).toBeGreaterThan(2);
  });

  test('the same seed gives the same bytes, another seed other ones', () => {
    const take = (seed: number): readonly string[][] => {
      const { rig, heard, run } = rigAt({ seed, noise: 'harsh' });
      run(1);
      rig.practice.lower();
      run(6);
      rig.practice.turn('RF', 1);
      rig.practice.lean(true);
      run(4);
      rig.practice.raise();
      run(6);
      return heard.map(({ hex }) => hex);
    };
    const first = take(31);
    expect(take(31)).toEqual(first);
    expect(take(32)).not.toEqual(first);
  });

  test.each([
    ['quiet', 0, 0, 0],
    ['normal', 0.0005, 0, 0],
    ['harsh', 0.02, 0.005, 0.005],
  ] as const)('%s loses, doubles and delays its share', (noise, lost, twice, late) => {
    const { heard, run } = rigAt({ seed: 41, noise });
    run(200);
    let sent = 0;
    let missing = 0;
    let doubled = 0;
    let old = 0;
    for (const { packets } of heard) {
      const numbers = packets.map((packet) => packet.sequence ?? NaN);
      const seen = new Set(numbers);
      const first = item(numbers, 0);
      const span = ((item(numbers, -1) - first + 0x10000) % 0x10000) / 2 + 1;
      sent += span;
      missing += span - seen.size;
      doubled += numbers.length - seen.size;
      numbers.forEach((number, i) => {
        const step = (number - (numbers[i - 1] ?? number) + 0x10000) % 0x10000;
        if (step > 0x8000) old += 1;
      });
    }
    const near = (found: number, share: number): void =>
      expect(Math.abs(found - sent * share)).toBeLessThanOrEqual(
        4 * Math.sqrt(sent * share) + (share > 0 ? 20 : 0),
      );
    near(missing, lost);
    near(doubled, twice);
    near(old, late);
  });
});

describe('time', () => {
  test('one timer by name, and none after stop', () => {
    const { rig, scheduler, heard, run } = rigAt({ seed: 1, noise: 'normal' });
    expect(scheduler.waiting()).toEqual(['practice rig']);
    run(1);
    rig.stop();
    expect(scheduler.waiting()).toEqual([]);
    const before = item(heard, 0).packets.length;
    run(1);
    expect(item(heard, 0).packets).toHaveLength(before);
  });

  test('after a pause of the computer the numbers jump over what could not be sent', () => {
    let now = 50;
    let tick: () => void = () => undefined;
    // A clock of this test's own, which sleeps for 20 s between two ticks.
    const scheduler: Scheduler = {
      now: () => second(now),
      after: () => () => undefined,
      every: (_name, _period, run) => {
        tick = run;
        return () => undefined;
      },
    };
    const rig = createRig({ scheduler, seed: 5, noise: 'quiet' });
    const slept = listen(item(rig.devices, 0), scheduler);
    for (let i = 0; i < 100; i += 1) {
      now += 0.01;
      tick();
    }
    const before = item(slept.packets, -1);
    const count = slept.packets.length;
    now += 20;
    tick();
    const made = slept.packets.length - count;
    // Not more than a quarter of a second is made up: 20 samples, 10 notifications.
    expect(made).toBeLessThanOrEqual(10);
    expect(made).toBeGreaterThanOrEqual(9);
    const after = item(slept.packets, count);
    const jump = ((after.sequence ?? NaN) - (before.sequence ?? NaN) + 0x10000) % 0x10000;
    const clock = (after.clockMs ?? NaN) - (before.clockMs ?? NaN);
    expect(Math.abs(jump - 19.75 * 80)).toBeLessThanOrEqual(3);
    expect(Math.abs(clock - jump * 12.5)).toBeLessThanOrEqual(2);
  });
});
