import fc from 'fast-check';
import { expect, test } from 'vitest';
import { parseDescription } from '../../../drivers/pads/protocol/description/parseDescription.ts';
import { padOf } from './descriptionPage.ts';

/**
 * Layouts made at random, with payloads written by an encoder of the test's own (big integers, not
 * the decoder's code): what was put in comes out, and damaged payloads do not.
 */

const SEED = 31_415;

interface Layout {
  readonly endian: 'little' | 'big';
  readonly width: number;
  readonly isSigned: boolean;
  readonly loadEndian: 'little' | 'big' | undefined;
  readonly hasSequence: boolean;
  readonly hasClock: boolean;
  readonly optionalWidth: number;
  readonly most: number;
  readonly scale: string;
  readonly check: {
    readonly method: 'xor' | 'sum';
    readonly negated: boolean;
    readonly xor: number;
  };
}

const layouts = fc.record<Layout>({
  endian: fc.constantFrom('little', 'big'),
  width: fc.integer({ min: 1, max: 4 }),
  isSigned: fc.boolean(),
  loadEndian: fc.constantFrom('little', 'big', undefined),
  hasSequence: fc.boolean(),
  hasClock: fc.boolean(),
  optionalWidth: fc.integer({ min: 1, max: 7 }),
  most: fc.integer({ min: 1, max: 8 }),
  scale: fc.constantFrom('1', '0.1', '0.005', '1/3', '1/128'),
  check: fc.record({
    method: fc.constantFrom('xor', 'sum'),
    negated: fc.boolean(),
    xor: fc.integer({ min: 0, max: 255 }),
  }),
});

/** Bits of the flags: 0 pounds, 1 the optional field is there, 2 low battery; the others are zero. */
const textFor = (layout: Layout): string =>
  JSON.stringify({
    format: 'millpond-pad-description',
    version: 1,
    name: 'made-up',
    title: 'Made by a test',
    recognise: { services: ['fff0'] },
    stream: { by: 'notify', service: 'fff0', characteristic: 'fff1' },
    noisy: false,
    silentAfter: 5,
    rating: { from: 'unknown' },
    payload: {
      endian: layout.endian,
      rate: 50,
      fields: [
        {
          is: 'bits',
          name: 'flags',
          width: 1,
          zero: [3, 4, 5, 6, 7],
          status: [{ bit: 2, flag: 'lowBattery' }],
        },
        ...(layout.hasSequence ? [{ is: 'sequence', name: 'number', width: 3 }] : []),
        {
          is: 'other',
          name: 'optional',
          width: layout.optionalWidth,
          when: { field: 'flags', bits: [1] },
        },
        ...(layout.hasClock ? [{ is: 'clock', name: 'clock', width: 4 }] : []),
        {
          is: 'load',
          name: 'load',
          width: layout.width,
          signed: layout.isSigned,
          endian: layout.loadEndian,
          units: [
            { unit: 'g', scale: layout.scale, when: { field: 'flags', bits: [0], is: 0 } },
            { unit: 'lb', scale: '0.01', when: { field: 'flags', bits: [0], is: 1 } },
          ],
          repeat: { least: 1, most: layout.most },
        },
        { is: 'check', name: 'check', width: 1, from: 0, to: -1, ...layout.check },
      ],
    },
  });

const put = (value: bigint, width: number, endian: 'little' | 'big'): number[] => {
  const little = Array.from({ length: width }, (_, k) => Number((value >> BigInt(8 * k)) & 0xffn));
  return endian === 'little' ? little : little.reverse();
};

interface Content {
  readonly flags: number;
  readonly sequence: number;
  readonly clock: number;
  readonly optional: readonly number[];
  readonly raws: readonly number[];
}

const encode = (layout: Layout, content: Content): Uint8Array => {
  const { endian, width, loadEndian = endian, check } = layout;
  const bytes = [
    content.flags,
    ...(layout.hasSequence ? put(BigInt(content.sequence), 3, endian) : []),
    ...(content.flags & 2 ? content.optional.slice(0, layout.optionalWidth) : []),
    ...(layout.hasClock ? put(BigInt(content.clock), 4, endian) : []),
    ...content.raws.flatMap((raw) => put(BigInt(raw), width, loadEndian)),
  ];
  let result = 0n;
  for (const byte of bytes)
    result = check.method === 'xor' ? result ^ BigInt(byte) : result + BigInt(byte);
  result = BigInt.asUintN(8, check.negated ? -result : result);
  return Uint8Array.of(...bytes, Number(result ^ BigInt(check.xor)));
};

const contents = (layout: Layout): fc.Arbitrary<Content> => {
  const bits = 8 * layout.width;
  const [min, max] = layout.isSigned
    ? [-(2 ** (bits - 1)), 2 ** (bits - 1) - 1]
    : [0, 2 ** bits - 1];
  return fc.record({
    flags: fc.integer({ min: 0, max: 7 }),
    sequence: fc.integer({ min: 0, max: 0xffffff }),
    clock: fc.integer({ min: 0, max: 0xffffffff }),
    optional: fc.array(fc.integer({ min: 0, max: 255 }), { minLength: 7, maxLength: 7 }),
    raws: fc.array(fc.integer({ min, max }), { minLength: 1, maxLength: layout.most }),
  });
};

/** Milligrams of a raw number, by big integers, a half up: 1 lb is 453592.37 mg exactly. */
const milligrams = (raw: number, scale: string, isPounds: boolean): bigint => {
  const [over, under = '1'] = scale.includes('/')
    ? scale.split('/')
    : [scale.replace('.', ''), `1${'0'.repeat(scale.split('.')[1]?.length ?? 0)}`];
  const [num, den] = isPounds
    ? [BigInt(raw) * 45_359_237n, 10_000n]
    : [BigInt(raw) * BigInt(over ?? '') * 1000n, BigInt(under)];
  const twice = 2n * num + den;
  const floor = twice / (2n * den);
  return twice < 0n && twice % (2n * den) !== 0n ? floor - 1n : floor;
};

const cases = layouts.chain((layout) => fc.tuple(fc.constant(layout), contents(layout)));

test('what was written is read; what cannot be kept is refused', () => {
  let tooMuch = 0;
  let accepted = 0;
  fc.assert(
    fc.property(cases, ([layout, content]) => {
      const pad = padOf(textFor(layout));
      const isPounds = (content.flags & 1) !== 0;
      const wanted = content.raws.map((raw) => milligrams(raw, layout.scale, isPounds));
      const decoded = pad.decode(encode(layout, content));
      if (wanted.some((count) => count > 2147483647n || count < -2147483647n)) {
        tooMuch++;
        expect(decoded).toMatchObject({ ok: false });
        return;
      }
      accepted++;
      expect(decoded).toEqual({
        ok: true,
        packet: {
          sequence: layout.hasSequence ? content.sequence % 65536 : null,
          clockMs: layout.hasClock ? content.clock : null,
          rate: 50,
          counts: wanted.map(Number),
          flags: content.flags & 4,
        },
      });
    }),
    { seed: SEED, numRuns: 1500 },
  );
  expect(accepted).toBeGreaterThan(500);
  expect(tooMuch).toBeGreaterThan(50);
});

test('one wrong bit, a byte too few or a reserved bit is never a reading', () => {
  fc.assert(
    fc.property(cases, fc.nat(), ([layout, content], pick) => {
      const pad = padOf(textFor(layout));
      const bytes = encode(layout, content);
      const wrong = Uint8Array.from(bytes);
      const bit = pick % (8 * bytes.length);
      wrong[bit >> 3] = (wrong[bit >> 3] ?? 0) ^ (1 << (bit & 7));
      expect(pad.decode(wrong).ok).toBe(false);
      const reserved = encode(layout, { ...content, flags: content.flags | 0x20 });
      expect(pad.decode(reserved).ok).toBe(false);
      for (let length = 0; length < Math.min(bytes.length, 3); length++)
        expect(pad.decode(bytes.subarray(0, length)).ok).toBe(false);
    }),
    { seed: SEED, numRuns: 800 },
  );
});

test('pounds and grams at once, or a shared byte, is no description', () => {
  fc.assert(
    fc.property(layouts, (layout) => {
      const clash = textFor(layout).replace('"bits":[0],"is":1', '"bits":[0],"is":0');
      expect(parseDescription(clash)).toMatchObject({ ok: false });
      const shared = textFor(layout).replace('"name":"load"', '"name":"load","at":0');
      expect(parseDescription(shared)).toMatchObject({ ok: false });
    }),
    { seed: SEED, numRuns: 50 },
  );
});

/** A description around the given payload, with hand-worked bytes beside it. */
const padWith = (payload: object) =>
  padOf(
    JSON.stringify({
      format: 'millpond-pad-description',
      version: 1,
      name: 'worked',
      title: 'Worked by hand',
      recognise: { services: ['fff0'] },
      stream: { by: 'notify', service: 'fff0', characteristic: 'fff1' },
      noisy: false,
      silentAfter: 5,
      rating: { from: 'unknown' },
      payload,
    }),
  );

test('no reading and a rate code that is not used are refused for that, whatever the number', () => {
  const pad = padWith({
    endian: 'little',
    fields: [
      { is: 'bits', name: 'status', width: 1, rate: { bits: [7, 0], values: [10, 20, null, 80] } },
      {
        is: 'load',
        name: 'load',
        width: 2,
        signed: true,
        units: [{ unit: 'g', scale: 1 }],
        sentinels: [
          { value: -1, means: 'no reading' },
          { value: 0x7fff, means: 'saturated' },
        ],
      },
    ],
  });
  const packet = { sequence: null, clockMs: null, rate: 10, counts: [-2000], flags: 0 };
  expect(pad.decode(Uint8Array.of(0, 0xfe, 0xff))).toEqual({ ok: true, packet });
  // Bits 7 and 0, the first lowest: 0x80 is code 1, 0x01 code 2, 0x81 code 3.
  expect(pad.decode(Uint8Array.of(0x80, 0xfe, 0xff))).toEqual({
    ok: true,
    packet: { ...packet, rate: 20 },
  });
  expect(pad.decode(Uint8Array.of(0x81, 0xff, 0x7f))).toEqual({
    ok: true,
    packet: { ...packet, rate: 80, counts: [32_767_000], flags: 2 },
  });
  expect(pad.decode(Uint8Array.of(1, 0xfe, 0xff))).toEqual({
    ok: false,
    why: 'the bits that choose the rate name none',
  });
  expect(pad.decode(Uint8Array.of(0, 0xff, 0xff))).toEqual({
    ok: false,
    why: '“load” is -1: the pad says that it has no reading',
  });
});

test('places by offset, lengths that leave bytes unread, a flag in the highest of 32 bits, a sum of 16', () => {
  const pad = padWith({
    endian: 'big',
    lengths: [12, 14],
    fields: [
      {
        is: 'load',
        name: 'load',
        at: 5,
        width: 3,
        signed: false,
        endian: 'little',
        units: [{ unit: 'counts' }],
      },
      {
        is: 'bits',
        name: 'flags',
        at: 0,
        width: 4,
        zero: [30],
        status: [{ bit: 31, flag: 'overload' }],
      },
      {
        is: 'other',
        name: 'more',
        at: 8,
        width: 1,
        when: { field: 'flags', bits: [31, 0], is: 3 },
        allowed: [[7, 7]],
      },
      { is: 'check', name: 'sum', at: -2, width: 2, method: 'sum', from: 0, to: -2, xor: '0xff00' },
    ],
  });
  const trial = (...head: number[]) => {
    const sum = head.reduce((total, byte) => total + byte, 0) ^ 0xff00;
    return pad.decode(Uint8Array.of(...head, sum >> 8, sum & 0xff));
  };
  const packet = { sequence: null, clockMs: null, rate: null, counts: [0x030201], flags: 0 };
  expect(trial(0, 0, 0, 0, 9, 1, 2, 3, 255, 255)).toEqual({ ok: true, packet });
  expect(trial(0x80, 0, 0, 0, 9, 1, 2, 3, 255, 255, 255, 255)).toEqual({
    ok: true,
    packet: { ...packet, flags: 1 },
  });
  expect(trial(0x80, 0, 0, 1, 9, 1, 2, 3, 7, 0).ok).toBe(true);
  expect(trial(0x80, 0, 0, 1, 9, 1, 2, 3, 8, 0)).toEqual({
    ok: false,
    why: '“more” cannot be 8',
  });
  expect(trial(0x40, 0, 0, 0, 9, 1, 2, 3, 0, 0)).toEqual({
    ok: false,
    why: 'bits of “flags” that must be zero are set',
  });
  expect(trial(0, 0, 0, 0, 9, 1, 2, 3, 0, 0, 0)).toEqual({
    ok: false,
    why: '13 bytes; 12, 14 were expected',
  });
  expect(pad.decode(Uint8Array.of(0, 0, 0, 0, 9, 1, 2, 3, 0, 0, 0, 15))).toEqual({
    ok: false,
    why: 'the check “sum” is 0x000f; the bytes give 0xff0f',
  });
});

test('a load at the end: shorter payloads have none; one that sticks out is no description', () => {
  const load = {
    is: 'load',
    name: 'load',
    width: 2,
    signed: false,
    units: [{ unit: 'g', scale: 1 }],
  };
  const pad = padWith({ endian: 'big', lengths: [1, 2, 3], fields: [{ ...load, at: -2 }] });
  expect(pad.decode(Uint8Array.of(9, 1, 2))).toMatchObject({ packet: { counts: [258_000] } });
  expect(pad.decode(Uint8Array.of(2))).toEqual({ ok: false, why: '1 bytes; too few for “load”' });
  expect(() => padWith({ endian: 'big', fields: [{ ...load, at: -1 }] })).toThrow(
    'payload.fields[0].at: move it: it lies outside the payload',
  );
});
