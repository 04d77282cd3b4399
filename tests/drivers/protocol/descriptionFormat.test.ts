import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { SAMPLE_FLAGS } from '../../../core/reading.ts';
import { BUILT_IN_DESCRIPTIONS, WEIGHT_SCALE_DESCRIPTION } from './builtInDescriptions.ts';
import type { DescribedPad } from '../../../drivers/pads/protocol/description/compileDescription.ts';
import { describedModels } from '../../../drivers/pads/protocol/description/describedModels.ts';
import {
  describe as textOf,
  parseDescription,
} from '../../../drivers/pads/protocol/description/parseDescription.ts';
import { PAD_MODELS } from '../../../drivers/pads/protocol/registry.ts';
import { padOf, pageTexts } from './descriptionPage.ts';

const SEED = 2718;

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

const TEXTS: readonly string[] = [
  ...pageTexts.values(),
  ...BUILT_IN_DESCRIPTIONS.map((one) => textOf(one)),
];

/** A copy of the JSON with the value at the path replaced; undefined takes it out. */
const changed = (json: Json, at: readonly (string | number)[], value: Json | undefined): Json => {
  const [key, ...rest] = at;
  if (key === undefined) return value ?? null;
  if (Array.isArray(json)) {
    const inner = rest.length === 0 ? value : changed(json[Number(key)] ?? null, rest, value);
    return json.flatMap((one, k) => (k !== key ? [one] : inner === undefined ? [] : [inner]));
  }
  if (typeof json !== 'object' || json === null) return json;
  const { [key]: old = null, ...others } = json;
  const inner = rest.length === 0 ? value : changed(old, rest, value);
  return inner === undefined ? others : { ...others, [key]: inner };
};

const problemsWith = (
  at: readonly (string | number)[],
  value: Json | undefined,
  text = textOf(WEIGHT_SCALE_DESCRIPTION),
): string => {
  const parsed = parseDescription(JSON.stringify(changed(JSON.parse(text) as Json, at, value)));
  if (parsed.ok) throw new Error('nothing is wrong with it');
  return parsed.problems.map(({ path, what }) => `${path}: ${what}`).join('\n');
};

describe('what is wrong is told with its place and what to do', () => {
  const field = (n: number, ...rest: (string | number)[]) => ['payload', 'fields', n, ...rest];

  test.each<[readonly (string | number)[], Json | undefined, string]>([
    [['version'], 2, 'version: write 1'],
    [
      ['name'],
      'Weight Scale',
      'name: write 2 to 40 lower-case letters, digits and dashes, a letter first',
    ],
    [['title'], undefined, 'title: missing: add text'],
    [
      ['recognise', 'services'],
      [],
      'recognise.services: name at least one service that the pad advertises',
    ],
    [
      ['recognise', 'services', 0],
      '18',
      'recognise.services[0]: write a UUID: four hex digits for an adopted one, else thirty-two with or without dashes',
    ],
    [['stream', 'by'], 'poll', 'stream.by: write one of "notify", "indicate", "advertisement"'],
    [
      ['colour'],
      'red',
      'colour: take it out or correct its spelling: the format has no such word here',
    ],
    [['noisy'], 'no', 'noisy: write true or false here'],
    [['silentAfter'], 0, 'silentAfter: write a number of at least 1'],
    [
      ['rating', 'ratedLoad'],
      '400',
      'rating.ratedLoad: lower it: the load field cannot say as much as this, kg',
    ],
    [
      ['rating', 'counts'],
      1000,
      'rating.counts: take it out: loads are sent in a unit, which says it',
    ],
    [field(1, 'width'), 5, 'payload.fields[1].width: write a whole number from 1 to 4'],
    [
      field(1, 'units', 0, 'scale'),
      '5e-3',
      'payload.fields[1].units[0].scale: write a number above 0 as a decimal, as "0.005", or a fraction, as "1/3", of at most 12 digits each side',
    ],
    [
      field(1, 'units', 1, 'unit'),
      'stone',
      'payload.fields[1].units[1].unit: write one of "kg", "g", "lb", "N", "counts"',
    ],
    [
      field(1, 'units', 1, 'when'),
      undefined,
      'payload.fields[1].units[1]: say when this unit is meant: there are several',
    ],
    [
      field(1, 'units', 1, 'when', 'is'),
      0,
      'payload.fields[1].units: make the conditions exclude each other: kg and lb can be meant at once',
    ],
    [
      field(1, 'sentinels', 0, 'value'),
      '0x10000',
      'payload.fields[1].sentinels[0].value: write a number from 0 to 65535',
    ],
    [
      field(2, 'when', 'field'),
      'weight',
      'payload.fields[2].when.field: name a field of kind “bits” that stands earlier in the list',
    ],
    [field(2, 'when', 'bits'), [8], 'payload.fields[2].when.bits: use bits 0 to 7 of “flags”'],
    [field(2, 'when', 'is'), 2, 'payload.fields[2].when.is: write 0 to 1: the bits say no more'],
    [field(3, 'name'), 'year', 'payload.fields[3].name: another name: “year” is taken'],
    [field(3, 'at'), 2, 'payload.fields[3]: move it: byte 2 also belongs to “weight”'],
    [
      field(3, 'allowed', 0),
      [12, 0],
      'payload.fields[3].allowed[0]: give a lower and an upper end within 0 to 255',
    ],
    [
      field(10),
      { is: 'clock', name: 'clock', width: 2 },
      'payload.fields[10].width: use 4 bytes of milliseconds; any other clock is of kind “other”',
    ],
    [
      field(10),
      { is: 'sequence', name: 'number', width: 1 },
      'payload.fields[10].width: use 2 to 4 bytes; a number that wraps sooner is of kind “other”',
    ],
    [
      field(10),
      { is: 'check', name: 'check', width: 1, method: 'xor', from: 0, to: 20 },
      'payload.fields[10].to: name at least one byte of the payload',
    ],
    [
      field(10),
      { is: 'check', name: 'check', width: 1, at: -1, method: 'xor', from: 0, to: 4 },
      'payload.fields[10].to: leave the check’s own bytes out of its range',
    ],
    [
      ['payload', 'lengths'],
      [1, 2],
      'payload.lengths: give a length of at least 3: the fields take that',
    ],
    [
      field(1),
      { is: 'other', name: 'weight', width: 2 },
      'payload.fields: add a field of kind “load”: it is what the pad is for',
    ],
  ])('%j', (at, value, wanted) => {
    expect(problemsWith(at, value)).toBe(wanted);
  });

  test('samples without a rate, a load twice, mixed units, a rating that cannot be', () => {
    const [corner = ''] = BUILT_IN_DESCRIPTIONS.map((one) => textOf(one));
    expect(problemsWith(field(2, 'rate'), undefined, corner)).toBe(
      'payload.rate: missing: several samples need a rate to be placed in time, Hz',
    );
    expect(problemsWith(field(2, 'rate', 'values'), [10, 20], corner)).toBe(
      'payload.fields[2].rate.values: give 4 rates, one for each code; null for one not used',
    );
    expect(problemsWith(field(3, 'units', 0, 'scale'), 2, corner)).toBe(
      'payload.fields[3].units[0].scale: take it out: counts are counted one by one',
    );
    expect(problemsWith(['rating', 'fields', 3], undefined, corner)).toBe(
      'rating.fields: add a field of kind “rated counts”: loads are sent as counts',
    );
    expect(problemsWith(['rating'], { from: 'fixed', ratedLoad: 500 }, corner)).toBe(
      'rating.counts: missing: say what the rated load adds to an empty pad’s counts',
    );
  });

  test('what is no JSON, no object or too long', () => {
    expect(parseDescription('{"format":')).toMatchObject({ ok: false, problems: [{ path: '' }] });
    expect(parseDescription('[]')).toMatchObject({ problems: [{ what: 'write an object here' }] });
    expect(parseDescription(' '.repeat(70_000))).toMatchObject({
      problems: [{ what: 'shorten it: a description has at most 65536 characters' }],
    });
  });
});

test('export and import: the same description, the same text; a mark of order is passed over', () => {
  for (const text of TEXTS) {
    const { description } = padOf(text);
    const exported = textOf(description);
    expect(padOf(`\uFEFF${exported}`).description).toEqual(description);
    expect(textOf(padOf(exported).description)).toBe(exported);
    for (const line of exported.split('\n')) expect(line.length).toBeLessThanOrEqual(100);
  }
});

test('spellings: UUIDs long, dashed and upper case, hex numbers, numbers as scales', () => {
  const text = textOf(WEIGHT_SCALE_DESCRIPTION)
    .replaceAll('"181d"', '"0000181D-0000-1000-8000-00805F9B34FB"')
    .replace('"2a9d"', '"0x2A9D"')
    .replace('65535', '"0xFFFF"')
    .replace('"0.005"', '0.005');
  expect(padOf(text).description).toEqual(WEIGHT_SCALE_DESCRIPTION);
});

test('models: described ones first, taken names and silent devices are told, the others still work', () => {
  const plain = pageTexts.get('plain-weight') ?? '';
  const kitchen = pageTexts.get('kitchen-scale') ?? '';
  const { models, unused } = describedModels([
    plain,
    plain,
    textOf(WEIGHT_SCALE_DESCRIPTION),
    kitchen,
    '{}',
  ]);
  expect(models.map(({ name }) => name)).toEqual([
    'plain-weight',
    ...PAD_MODELS.map(({ name }) => name),
  ]);
  expect(unused.map(({ index, problems }) => [index, problems[0]])).toEqual([
    [1, { path: 'name', what: 'another name: this one is taken' }],
    [2, { path: 'name', what: 'another name: this one is taken' }],
    [
      3,
      {
        path: 'stream.by',
        what: 'Pads that only advertise can be tried here and are not streamed yet.',
      },
    ],
    [4, { path: 'format', what: 'missing: add "millpond-pad-description"' }],
  ]);
});

const KNOWN_FLAGS =
  SAMPLE_FLAGS.overload | SAMPLE_FLAGS.saturated | SAMPLE_FLAGS.lowBattery | SAMPLE_FLAGS.restarted;

/** Holds for any description that is accepted and any bytes. */
const behaves = (pad: DescribedPad, bytes: Uint8Array): boolean => {
  const decoded = pad.decode(bytes);
  const weighed = pad.weigh(bytes);
  const trial = pad.trial(bytes);
  expect(weighed.ok).toBe(decoded.ok);
  expect(trial.packet).toEqual(decoded.ok ? decoded.packet : null);
  // The pieces are the bytes, each once and in order.
  expect(trial.pieces.map(({ hex }) => hex).join(' ')).toBe(
    Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join(' '),
  );
  if (!decoded.ok || !weighed.ok) {
    expect(decoded.ok ? '' : decoded.why).not.toBe('');
    return false;
  }
  const { sequence, clockMs, rate, counts, flags } = decoded.packet;
  expect(counts.length >= 1 && counts.length <= 32).toBe(true);
  expect(weighed.loads.length).toBe(counts.length);
  for (const count of counts)
    expect(Number.isInteger(count) && Math.abs(count) <= 0x7fffffff).toBe(true);
  if (sequence !== null) expect(sequence >= 0 && sequence <= 0xffff).toBe(true);
  if (clockMs !== null) expect(clockMs >= 0 && clockMs <= 0xffffffff).toBe(true);
  if (rate !== null) expect(rate > 0 && Number.isFinite(rate)).toBe(true);
  expect(flags & ~KNOWN_FLAGS).toBe(0);
  return true;
};

const anyBytes = fc.oneof(
  fc.uint8Array({ maxLength: 24 }),
  fc.uint8Array({ maxLength: 64 }),
  fc.array(fc.constantFrom(0, 1, 2, 0xff), { maxLength: 24 }).map((all) => Uint8Array.from(all)),
);

describe('anything at all', () => {
  test('any text and any JSON is a description or problems, never a throw', () => {
    const json = fc.oneof(fc.string(), fc.json(), fc.json({ maxDepth: 6 }));
    fc.assert(
      fc.property(json, (text) => {
        const parsed = parseDescription(text);
        expect(parsed.ok).toBe(false);
      }),
      { seed: SEED, numRuns: 3000 },
    );
    for (const text of [
      '{"__proto__":{"format":1}}',
      '['.repeat(60_000),
      '{"payload":{"fields":[[]]}}',
    ])
      expect(parseDescription(text).ok).toBe(false);
  });

  test('the good ones read any bytes', () => {
    const pads = TEXTS.map(padOf);
    fc.assert(
      fc.property(fc.constantFrom(...pads), anyBytes, (pad, bytes) => {
        behaves(pad, bytes);
      }),
      { seed: SEED, numRuns: 3000 },
    );
  });

  /** Every path into the JSON. */
  const pathsOf = (json: Json, at: readonly (string | number)[] = []): (string | number)[][] => {
    if (typeof json !== 'object' || json === null) return [[...at]];
    const entries: [string | number, Json][] = Array.isArray(json)
      ? json.map((one, k) => [k, one])
      : Object.entries(json);
    return [[...at], ...entries.flatMap(([key, one]) => pathsOf(one, [...at, key]))];
  };
  const bases = TEXTS.map((text) => JSON.parse(text) as Json);
  const values = fc.oneof(
    fc.integer({ min: -3, max: 20 }),
    fc.constantFrom<Json | undefined>(
      undefined,
      null,
      true,
      '',
      'flags',
      '0xff',
      '1/3',
      'counts',
      'N',
      'big',
      [],
      {},
      -0,
      1e300,
      { field: 'flags', bits: [0, 1], is: 2 },
      { least: 2, most: 32 },
      { from: 'unknown' },
    ),
    fc.jsonValue({ maxDepth: 2 }) as fc.Arbitrary<Json>,
  );

  /** Another value of the same kind: more of those are accepted. */
  const alike = (old: Json, n: number): Json | undefined => {
    if (typeof old === 'number') return (n % 14) - 2;
    if (typeof old === 'boolean') return n % 2 === 0;
    if (typeof old === 'string') return ['kg', 'N', 'xor', 'sum', '2', 'big', 'restarted'][n % 7];
    return undefined;
  };
  const at = (json: Json, keys: readonly (string | number)[]): Json =>
    keys.reduce<Json>(
      (inner, key) =>
        Array.isArray(inner)
          ? (inner[Number(key)] ?? null)
          : typeof inner === 'object' && inner !== null
            ? (inner[key] ?? null)
            : null,
      json,
    );

  test('a changed description is refused with places, or still makes sense of any bytes', () => {
    let accepted = 0;
    let decoded = 0;
    const edits = fc.array(fc.tuple(fc.nat(), fc.nat(), values), { minLength: 1, maxLength: 3 });
    fc.assert(
      fc.property(
        fc.constantFrom(...bases),
        edits,
        fc.array(anyBytes, { minLength: 4, maxLength: 12 }),
        (base, all, some) => {
          let json = base;
          for (const [pick, n, value] of all) {
            const paths = pathsOf(json);
            const place = paths[pick % paths.length] ?? [];
            json = changed(json, place, n % 4 === 0 ? value : alike(at(json, place), n >> 2));
          }
          const parsed = parseDescription(JSON.stringify(json));
          if (!parsed.ok) {
            expect(parsed.problems.length).toBeGreaterThan(0);
            for (const { what } of parsed.problems) expect(what).toMatch(/^[a-z].{6,}/);
            return;
          }
          accepted++;
          expect(padOf(textOf(parsed.pad.description)).description).toEqual(parsed.pad.description);
          for (const bytes of some) if (behaves(parsed.pad, bytes)) decoded++;
        },
      ),
      { seed: SEED, numRuns: 4000 },
    );
    expect(accepted).toBeGreaterThan(300);
    expect(decoded).toBeGreaterThan(50);
  });
});
