import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { WEIGHT_SCALE_DESCRIPTION } from './builtInDescriptions.ts';
import type { DescribedPad } from '../../../drivers/pads/protocol/description/compileDescription.ts';
import { describe as textOf } from '../../../drivers/pads/protocol/description/parseDescription.ts';
import {
  bytesOf,
  loadsOf,
  padOf,
  pageBlocks,
  pagePad,
  pageTexts,
  pageTries,
} from './descriptionPage.ts';
import { sharedData } from '../../support/sharedData.ts';

/**
 * Published payloads against descriptions. Each vector names its own source; the weights are not
 * computed here.
 */

interface Vector {
  readonly hex: string;
  readonly unit?: string;
  readonly weight?: number;
  readonly expect?: 'reject';
}
interface Family {
  readonly family: string;
  readonly vectors: readonly Vector[];
}

const VECTORS = sharedData('weight-payload-vectors.json');

const adopted = padOf(textOf(WEIGHT_SCALE_DESCRIPTION));
const PADS: readonly (readonly [start: string, pad: DescribedPad])[] = [
  ['Bluetooth SIG Weight Measurement 0x2A9D', adopted],
  ['Bluetooth SIG Weight 0x2A98', pagePad('plain-weight')],
  ['Kitchen scale', pagePad('kitchen-scale')],
];

VECTORS.describe('published payloads', () => {
  const families = JSON.parse(readFileSync(VECTORS.file, 'utf8')) as readonly Family[];
  test('every layout has its description', () => {
    const starts = families.map(({ family }) => PADS.filter(([start]) => family.startsWith(start)));
    expect(starts.map(({ length }) => length)).toEqual(families.map(() => 1));
  });

  const vectors = families.flatMap(({ family, vectors: all }) =>
    all.map((vector) => ({ family, vector, pad: PADS.find(([s]) => family.startsWith(s))?.[1] })),
  );

  test.each(vectors.map((one) => [`${one.family} ${one.vector.hex}`, one] as const))(
    '%s',
    (_name, { vector, pad }) => {
      if (!pad) throw new Error('no description');
      const bytes = bytesOf(vector.hex);
      const wanted = vector.expect === 'reject' ? null : [`${vector.weight} ${vector.unit}`];
      expect(loadsOf(pad, bytes)).toEqual(wanted);
      // Nothing shorter and nothing longer is taken for it.
      for (let length = 0; length < bytes.length; length++)
        expect(loadsOf(pad, bytes.subarray(0, length))).toBeNull();
      if (wanted) expect(loadsOf(pad, Uint8Array.of(...bytes, 0))).toBeNull();
    },
  );

  test('with a check byte, no single wrong bit and no single wrong byte is taken', () => {
    const pad = pagePad('kitchen-scale');
    const scale = families.find(({ family }) => family.startsWith('Kitchen scale'));
    expect(scale?.vectors.length).toBeGreaterThan(3);
    for (const { hex } of scale?.vectors ?? []) {
      const bytes = bytesOf(hex);
      for (let at = 0; at < bytes.length; at++)
        for (let change = 1; change < 256; change++) {
          const wrong = Uint8Array.from(bytes);
          wrong[at] = (wrong[at] ?? 0) ^ change;
          const weighed = pad.weigh(wrong);
          expect(weighed.ok).toBe(false);
          if (!weighed.ok) expect(weighed.why).toMatch(/^the check “check” is 0x[0-9a-f]{2}/);
        }
    }
  });
});

describe('the examples of the page', () => {
  test('all of them were read, each description is tried with a payload it takes and one it does not', () => {
    expect(pageTexts.size + pageTries.length).toBe(pageBlocks.length);
    for (const name of pageTexts.keys()) {
      const kinds = pageTries.filter((one) => one.try === name).map(({ loads }) => loads === null);
      expect(kinds).toContain(true);
      expect(kinds).toContain(false);
    }
  });

  test.each(pageTries.map((one) => [`${one.try} ${one.hex}`, one] as const))(
    '%s',
    (_name, { try: name, hex, loads }) => {
      expect(loadsOf(pagePad(name), bytesOf(hex))).toEqual(loads);
    },
  );

  test('numbered batches: number, clock, rate and flags; counts are milligrams of standard gravity', () => {
    const { loads, hex } = pageTries.find((one) => one.try === 'force-batches') ?? {};
    expect(loads).toEqual(['3063.597 N', '-1 N']);
    expect(pagePad('force-batches').decode(bytesOf(hex ?? ''))).toEqual({
      ok: true,
      packet: {
        sequence: 1,
        clockMs: 50,
        rate: 80,
        // 3063.597 N / 9.80665 m/s² = 312.4000 kg (Bluetooth Force 0x2C07 example, 312.4 kgf);
        // 3063597/9806.65 = 312.399952073…, 1/9.80665 = 0.101971621… kg
        counts: [312_399_953, -101_972],
        flags: 4,
      },
    });
  });
});

test('the trial says which bytes gave which value, and what was not read', () => {
  const pad = pagePad('kitchen-scale');
  const trial = pad.trial(bytesOf('0f05020014e45a00020050fb198aa0c2ea'));
  expect(trial).toEqual({
    why: null,
    pieces: [
      { from: 0, to: 4, hex: '0f 05 02 00', field: 'head', is: 'other', value: '251986432' },
      { from: 4, to: 6, hex: '14 e4', field: 'weight', is: 'load', value: '53.48 g' },
      { from: 6, to: 10, hex: '5a 00 02 00', field: 'not known', is: 'other', value: '1509949952' },
      { from: 10, to: 16, hex: '50 fb 19 8a a0 c2', field: 'address', is: 'other', value: null },
      { from: 16, to: 17, hex: 'ea', field: 'check', is: 'check', value: '234' },
    ],
    loads: [{ unit: 'g', value: '53.48' }],
    packet: { sequence: null, clockMs: null, rate: null, counts: [53_480], flags: 0 },
  });
  const short = adopted.trial(bytesOf('08b036f500d6'));
  expect(short.why).toBe('6 bytes; too few for “height”');
  expect(short.pieces.at(-1)).toEqual({
    from: 5,
    to: 6,
    hex: 'd6',
    field: null,
    is: null,
    value: null,
  });
  expect(short.loads).toEqual([]);
});
