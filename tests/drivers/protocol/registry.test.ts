import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { SAMPLE_FLAGS } from '../../../core/reading.ts';
import {
  CORNER_PAD_RATES,
  decodeCommand,
  decodeLoads,
  decodeRating,
  encodeCommand,
  encodeLoads,
  encodeRating,
} from '../../../drivers/pads/protocol/cornerPad.ts';
import type { PadCommand } from '../../../drivers/pads/protocol/model.ts';
import { isPadAdvertised, modelOf, PAD_MODELS } from '../../../drivers/pads/protocol/registry.ts';

const SEED = 81;
const UUID = /^(?:[0-9a-f]{4}|[0-9a-f]{32})$/;
const anyBytes = fc.uint8Array({ maxLength: 24 });
const KNOWN_FLAGS = Object.values(SAMPLE_FLAGS).reduce((sum, flag) => sum | flag, 0);

describe.each(PAD_MODELS.map((model) => [model.name, model] as const))('%s', (_name, model) => {
  test('is whole: names, UUIDs, rating, silence', () => {
    expect(model.name).toMatch(/^[a-z][a-z-]+$/);
    expect(model.title.length).toBeGreaterThan(3);
    const uuids = [model.service, model.stream.service, model.stream.uuid];
    if (model.control) uuids.push(model.control.at.service, model.control.at.uuid);
    if ('from' in model.rating) uuids.push(model.rating.from.service, model.rating.from.uuid);
    for (const uuid of uuids) expect(uuid).toMatch(UUID);
    expect(model.silentAfter).toBeGreaterThanOrEqual(1);
    if ('fixed' in model.rating) {
      if (!model.rating.fixed) throw new Error('a built-in model knows its rating');
      expect(model.rating.fixed.ratedLoad).toBeGreaterThan(0);
      expect(model.rating.fixed.countsAtRatedLoad).not.toBe(0);
      expect(model.rating.fixed.resolution).toBeGreaterThan(0);
    }
  });

  test('decodes any bytes to a packet that can be, or to a reason; never throws', () => {
    fc.assert(
      fc.property(anyBytes, (bytes) => {
        const decoded = model.decode(bytes);
        if (!decoded.ok) {
          expect(decoded.why.length).toBeGreaterThan(0);
          return;
        }
        const { sequence, clockMs, rate, counts, flags } = decoded.packet;
        expect(counts.length >= 1 && counts.length <= 4).toBe(true);
        for (const count of counts) expect(Number.isSafeInteger(count)).toBe(true);
        if (sequence !== null) expect(sequence >= 0 && sequence <= 0xffff).toBe(true);
        if (clockMs !== null) expect(clockMs >= 0 && clockMs <= 0xffffffff).toBe(true);
        if (rate !== null) expect(CORNER_PAD_RATES).toContain(rate);
        expect(flags & ~KNOWN_FLAGS).toBe(0);
        // The same bytes inside a larger buffer, as radios hand them on, mean the same.
        const wide = new Uint8Array(bytes.length + 7).fill(0xa5);
        wide.set(bytes, 3);
        expect(model.decode(wide.subarray(3, 3 + bytes.length))).toEqual(decoded);
      }),
      { seed: SEED, numRuns: 2000 },
    );
  });

  test('its rating decodes any bytes without a throw', () => {
    const { rating } = model;
    if (!('from' in rating)) return;
    fc.assert(
      fc.property(anyBytes, (bytes) => {
        const decoded = rating.decode(bytes);
        if (decoded) expect(decoded.ratedLoad > 0 && decoded.countsAtRatedLoad > 0).toBe(true);
      }),
      { seed: SEED },
    );
  });

  test('is found by its own stream and its own service, and only when that notifies', () => {
    const offered = { ...model.stream, canNotify: true };
    expect(modelOf([offered])).toBe(model);
    expect(modelOf([{ ...offered, canNotify: false }])).toBeNull();
    expect(isPadAdvertised(['1800', model.service])).toBe(true);
  });
});

test('names are told apart; a device that speaks two is taken at its best; others are no pads', () => {
  expect(new Set(PAD_MODELS.map((model) => model.name)).size).toBe(PAD_MODELS.length);
  const both = PAD_MODELS.map((model) => ({ ...model.stream, canNotify: true })).reverse();
  expect(modelOf(both)?.name).toBe('corner-pad');
  expect(isPadAdvertised(['180d'])).toBe(false);
  expect(modelOf([])).toBeNull();
});

describe('the corner pad: encode then decode is identity', () => {
  test('loads', () => {
    const packet = fc.record({
      sequence: fc.integer({ min: 0, max: 0xffff }),
      clockMs: fc.integer({ min: 0, max: 0xffffffff }),
      rate: fc.constantFrom(...CORNER_PAD_RATES),
      counts: fc.array(fc.integer({ min: -0x800000, max: 0x7fffff }), {
        minLength: 1,
        maxLength: 4,
      }),
      flags: fc.integer({ min: 0, max: 15 }),
    });
    fc.assert(
      fc.property(packet, (one) => {
        const bytes = encodeLoads(one);
        expect(bytes.length).toBeLessThanOrEqual(20);
        expect(decodeLoads(bytes)).toEqual({ ok: true, packet: one });
      }),
      { seed: SEED },
    );
  });

  test('rating, in steps of 0.1 kg', () => {
    const rating = fc.record({
      ratedLoad: fc.integer({ min: 1, max: 65_535 }).map((tenths) => tenths / 10),
      countsAtRatedLoad: fc.integer({ min: 1, max: 0x7fffffff }),
      resolution: fc.constant(1),
    });
    fc.assert(
      fc.property(rating, (one) => {
        expect(decodeRating(encodeRating(one))).toEqual(one);
      }),
      { seed: SEED },
    );
  });

  test('commands, and no others', () => {
    const commands: readonly PadCommand[] = [
      ...CORNER_PAD_RATES.map((rate) => ({ do: 'set rate', rate }) as const),
      { do: 'identify', seconds: 1 },
      { do: 'identify', seconds: 255 },
      { do: 'reset clock' },
    ];
    for (const command of commands) expect(decodeCommand(encodeCommand(command))).toEqual(command);
    expect(() => encodeCommand({ do: 'set rate', rate: 50 })).toThrow(RangeError);
    fc.assert(
      fc.property(anyBytes, (bytes) => {
        const command = decodeCommand(bytes);
        if (command) expect(encodeCommand(command)).toEqual(bytes);
      }),
      { seed: SEED },
    );
  });

  test('what the layout cannot say is refused at the sender', () => {
    const good = { sequence: 0, clockMs: 0, rate: 80, counts: [0], flags: 0 };
    expect(() => encodeLoads({ ...good, counts: [0x800000] })).toThrow(RangeError);
    expect(() => encodeLoads({ ...good, counts: [] })).toThrow(RangeError);
    expect(() => encodeLoads({ ...good, counts: [1, 2, 3, 4, 5] })).toThrow(RangeError);
    expect(() => encodeLoads({ ...good, rate: 50 })).toThrow(RangeError);
    expect(() => encodeLoads({ ...good, sequence: null })).toThrow(RangeError);
    const rating = { ratedLoad: 500, countsAtRatedLoad: 4_194_304, resolution: 1 };
    expect(() => encodeRating({ ...rating, ratedLoad: 6553.6 })).toThrow(RangeError);
    expect(() => encodeRating({ ...rating, ratedLoad: 0 })).toThrow(RangeError);
    expect(() => encodeRating({ ...rating, countsAtRatedLoad: 2 ** 31 })).toThrow(RangeError);
    expect(() => encodeRating({ ...rating, countsAtRatedLoad: -1 })).toThrow(RangeError);
  });
});
