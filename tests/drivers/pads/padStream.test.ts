import { describe, expect, test } from 'vitest';
import type { PadsEvent } from '../../../core/bench/ports.ts';
import { SAMPLE_FLAGS } from '../../../core/reading.ts';
import { createDrivenScheduler } from '../../../core/scheduler.ts';
import { second } from '../../../core/units.ts';
import { createFaultBook } from '../../../drivers/pads/faultBook.ts';
import { createPadStream } from '../../../drivers/pads/padStream.ts';
import { CORNER_PAD_MODEL, encodeLoads } from '../../../drivers/pads/protocol/cornerPad.ts';
import type { PadModel } from '../../../drivers/pads/protocol/model.ts';
import {
  encodeWeightMeasurement,
  WEIGHT_SCALE_MODEL,
} from '../../../drivers/pads/protocol/weightScale.ts';

const setUp = (model: PadModel) => {
  const scheduler = createDrivenScheduler();
  const events: PadsEvent[] = [];
  const told: string[] = [];
  const faults = createFaultBook({
    scheduler,
    subject: () => 'MP-1',
    tell: ({ code }) => told.push(code),
  });
  const stream = createPadStream({
    serial: 'MP-1',
    model,
    resolution: 1,
    faults,
    emit: (event) => events.push(event),
  });
  const samples = () => events.flatMap((event) => (event.kind === 'samples' ? event.samples : []));
  const gaps = () => events.filter((event) => event.kind === 'gap');
  return { stream, faults, told, samples, gaps };
};

/** Four samples of a quiet pad at 80 Hz, delivered 5 ms after the last was converted. */
const feedCorner = (
  stream: { received: (bytes: Uint8Array, at: ReturnType<typeof second>) => void },
  first: number,
  { flags = 0, counts = [7, 9, 8, 6] }: { flags?: number; counts?: readonly number[] } = {},
): void => {
  const clockMs = (first * 1000) / 80;
  const bytes = encodeLoads({ sequence: first & 0xffff, clockMs, rate: 80, counts, flags });
  stream.received(bytes, second(100 + (clockMs + 3 * 12.5 + 5) / 1000));
};

describe('a corner pad', () => {
  test('samples are 12.5 ms apart at their own time, one held back for its neighbour', () => {
    const { stream, samples } = setUp(CORNER_PAD_MODEL);
    for (let n = 0; n < 40; n += 4) feedCorner(stream, n);
    expect(samples()).toHaveLength(39);
    for (const [k, sample] of samples().entries()) {
      expect(sample.index).toBe(k);
      expect(sample.t).toBeCloseTo(100.005 + k * 0.0125, 9);
      expect(sample.raw).toBe([7, 9, 8, 6][k % 4]);
    }
    stream.linkLost();
    expect(samples()).toHaveLength(40);
    expect(stream.counts).toEqual({ received: 40, missing: 0, duplicates: 0, late: 0 });
  });

  test('a hole lies between the samples on either side of it', () => {
    const { stream, samples, gaps, told } = setUp(CORNER_PAD_MODEL);
    feedCorner(stream, 0);
    feedCorner(stream, 12);
    feedCorner(stream, 16);
    expect(gaps()).toEqual([
      {
        kind: 'gap',
        serial: 'MP-1',
        from: samples()[3]?.t,
        to: samples()[4]?.t,
        missing: 8,
        reason: 'lost',
      },
    ]);
    expect(told).toEqual(['sample-gap']);
  });

  test('status bits are faults while they hold, and mark the samples they came with', () => {
    const { stream, faults, told, samples } = setUp(CORNER_PAD_MODEL);
    const { overload, saturated, lowBattery, restarted } = SAMPLE_FLAGS;
    feedCorner(stream, 0, { flags: restarted | lowBattery });
    feedCorner(stream, 4, { flags: overload | saturated | lowBattery });
    feedCorner(stream, 8, { flags: overload });
    feedCorner(stream, 12);
    feedCorner(stream, 16);
    expect(told).toEqual(['pad-low-battery', 'pad-overload', 'pad-saturated']);
    expect(
      samples()
        .map(({ flags }) => flags)
        .slice(0, 12),
    ).toEqual([
      restarted | lowBattery,
      ...Array<number>(3).fill(lowBattery),
      ...Array<number>(4).fill(overload | saturated | lowBattery),
      ...Array<number>(4).fill(overload),
    ]);
    feedCorner(stream, 20, { flags: overload });
    // It happened again within the time in which it is told once, and holds: it stays on the list.
    expect(faults.shown().map(({ code }) => code)).toContain('pad-overload');
  });

  test('eighty equal numbers are a stuck channel; at the end of the range they are not', () => {
    const same = (flags: number) => {
      const { stream, told } = setUp(CORNER_PAD_MODEL);
      for (let n = 0; n < 76; n += 4) feedCorner(stream, n, { counts: [5, 5, 5, 5], flags });
      const before = [...told];
      feedCorner(stream, 76, { counts: [5, 5, 5, 5], flags });
      return [before, told];
    };
    expect(same(0)).toEqual([[], ['pad-stuck']]);
    expect(same(SAMPLE_FLAGS.saturated)).toEqual([['pad-saturated'], ['pad-saturated']]);
  });

  test('bytes that cannot be are told and make no sample', () => {
    const { stream, told, samples } = setUp(CORNER_PAD_MODEL);
    stream.received(Uint8Array.of(1, 2, 3), second(1));
    stream.linkLost();
    expect(told).toEqual(['payload-malformed']);
    expect(samples()).toEqual([]);
    expect(stream.counts.received).toBe(0);
  });

  test('the clock’s wrap moves no sample', () => {
    const { stream, samples } = setUp(CORNER_PAD_MODEL);
    const clock0 = 2 ** 32 - 500;
    for (let n = 0; n < 80; n += 4) {
      const ms = (n * 1000) / 80;
      const clockMs = (clock0 + ms) % 2 ** 32;
      const bytes = encodeLoads({ sequence: n, clockMs, rate: 80, counts: [1, 3, 2, 4], flags: 0 });
      stream.received(bytes, second(50 + ms / 1000));
    }
    const steps = samples().map(({ t }, k, all) => t - (all[k - 1]?.t ?? t - 0.0125));
    for (const step of steps) expect(step).toBeCloseTo(0.0125, 6);
  });
});

test('a weight scale: milligrams by arrival, standing still is no fault, the ceiling is overload', () => {
  const { stream, told, samples, gaps } = setUp(WEIGHT_SCALE_MODEL);
  const plain = { unit: 'kg', timeStamp: null, user: null, bmi: null, height: null } as const;
  const weigh = (weight: number, overload: boolean, at: number): void =>
    stream.received(encodeWeightMeasurement({ ...plain, weight, overload }), second(at));
  for (let k = 0; k < 200; k++) weigh(70, false, 10 + k / 10);
  expect(told).toEqual([]);
  weigh(0, true, 30);
  expect(told).toEqual(['pad-overload']);
  stream.linkLost();
  weigh(70, false, 40);
  stream.linkLost();
  expect(samples().slice(-3)).toMatchObject([
    { t: 29.9, raw: 70_000_000, flags: 0 },
    { t: 30, raw: 327_675_000, flags: SAMPLE_FLAGS.overload },
    { t: 40, raw: 70_000_000, flags: 0 },
  ]);
  expect(gaps()).toEqual([
    { kind: 'gap', serial: 'MP-1', from: 30, to: 40, missing: null, reason: 'link' },
  ]);
});
