import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { SAMPLE_FLAGS } from '../../../core/reading.ts';
import {
  CORNER_PAD_UUIDS,
  decodeCommand,
  decodeLoads,
  decodeRating,
  encodeCommand,
  encodeLoads,
  encodeRating,
} from '../../../drivers/pads/protocol/cornerPad.ts';

/** The page that strangers build firmware from: what it says is what the code does. */
const PAGE = readFileSync(
  path.resolve('drivers', 'pads', 'protocol', 'cornerPadProfile.md'),
  'utf8',
);

interface LoadsMeant {
  readonly sequence: number;
  readonly clockMs: number;
  readonly rate: number;
  readonly counts: readonly number[];
  readonly flags: readonly (keyof typeof SAMPLE_FLAGS)[];
}

type Example =
  | { readonly characteristic: 'loads'; readonly hex: string; readonly means: LoadsMeant | null }
  | {
      readonly characteristic: 'rating';
      readonly hex: string;
      readonly means: NonNullable<ReturnType<typeof decodeRating>> | null;
    }
  | {
      readonly characteristic: 'control';
      readonly hex: string;
      readonly means: NonNullable<ReturnType<typeof decodeCommand>> | null;
    };

const examples = [...PAGE.matchAll(/```json\n([^`]*)```/g)].map(
  ([, json]) => JSON.parse(json ?? '') as Example,
);

const bytesOf = (hex: string): Uint8Array =>
  Uint8Array.from(hex.split(' '), (byte) => Number.parseInt(byte, 16));

const flagsOf = (names: LoadsMeant['flags']): number =>
  names.reduce((sum, name) => sum + SAMPLE_FLAGS[name], 0);

const check = (example: Example): void => {
  const bytes = bytesOf(example.hex);
  if (example.characteristic === 'loads') {
    const decoded = decodeLoads(bytes);
    if (!example.means) {
      expect(decoded.ok).toBe(false);
      return;
    }
    const packet = { ...example.means, flags: flagsOf(example.means.flags) };
    expect(decoded).toEqual({ ok: true, packet });
    expect(encodeLoads(packet)).toEqual(bytes);
  } else if (example.characteristic === 'rating') {
    expect(decodeRating(bytes)).toEqual(example.means);
    if (example.means) expect(encodeRating(example.means)).toEqual(bytes);
  } else {
    expect(decodeCommand(bytes)).toEqual(example.means);
    if (example.means) expect(encodeCommand(example.means)).toEqual(bytes);
  }
};

describe('the examples of the page', () => {
  test('there are some of each kind, accepted and refused', () => {
    const kinds = examples.map((one) => `${one.characteristic} ${one.means ? 'is' : 'refused'}`);
    expect(kinds.length).toBe((PAGE.match(/```json/g) ?? []).length);
    for (const characteristic of ['loads', 'rating', 'control'])
      for (const verdict of ['is', 'refused'])
        expect(kinds).toContain(`${characteristic} ${verdict}`);
  });

  for (const example of examples)
    test(`${example.characteristic} ${example.hex}`, () => check(example));
});

test('the UUIDs of the page are those of the code, and every notification fits 20 bytes', () => {
  const dashed = (uuid: string): string =>
    [
      uuid.slice(0, 8),
      uuid.slice(8, 12),
      uuid.slice(12, 16),
      uuid.slice(16, 20),
      uuid.slice(20),
    ].join('-');
  const rows: unknown = Object.fromEntries(
    [...PAGE.matchAll(/^\| (Corner pad|Loads|Control|Rating) \| `([0-9a-f-]{36})`/gm)].map(
      ([, name, uuid]) => [name, uuid],
    ),
  );
  expect(rows).toEqual({
    'Corner pad': dashed(CORNER_PAD_UUIDS.service),
    Loads: dashed(CORNER_PAD_UUIDS.loads),
    Control: dashed(CORNER_PAD_UUIDS.control),
    Rating: dashed(CORNER_PAD_UUIDS.rating),
  });
  for (const example of examples)
    if (example.means) expect(bytesOf(example.hex).length).toBeLessThanOrEqual(20);
});
