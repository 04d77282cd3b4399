import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  decodeBattery,
  decodeTemperature,
  decodeText,
  encodeBattery,
  encodeTemperature,
} from '../../../drivers/pads/protocol/standard.ts';

const bytesOf = (hex: string): Uint8Array =>
  Uint8Array.from(hex.split(' '), (byte) => Number.parseInt(byte, 16));

/** Bluetooth SIG: sint16 in 0.01 °C; values as an independent library tests them, two by hand. */
const TEMPERATURES = [
  ['64 08', 21.48],
  ['18 fc', -10],
  ['ff 7f', 327.67],
  ['01 00', 0.01],
  ['29 09', 23.45],
  ['f3 fd', -5.25],
  ['00 80', null],
] as const;

describe('Temperature 0x2A6E', () => {
  test.each(TEMPERATURES)('%s is %s', (hex, celsius) => {
    expect(decodeTemperature(bytesOf(hex))).toBe(celsius);
    expect(encodeTemperature(celsius)).toEqual(bytesOf(hex));
  });

  test('below absolute zero, or of another length, is no temperature', () => {
    // −273.16 °C = −27316 = 0x954C
    expect(decodeTemperature(bytesOf('4c 95'))).toBeNull();
    expect(decodeTemperature(bytesOf('4d 95'))).toBe(-273.15);
    expect(decodeTemperature(bytesOf('64 08 00'))).toBeNull();
    expect(decodeTemperature(bytesOf('64'))).toBeNull();
    expect(() => encodeTemperature(328)).toThrow(RangeError);
    expect(() => encodeTemperature(-280)).toThrow(RangeError);
  });
});

describe('Battery Level 0x2A19', () => {
  test.each([
    ['00', 0],
    ['32', 50],
    ['4b', 75],
    ['64', 100],
  ] as const)('%s is %s', (hex, percent) => {
    expect(decodeBattery(bytesOf(hex))).toBe(percent);
    expect(encodeBattery(percent)).toEqual(bytesOf(hex));
  });

  test('above 100, empty or longer is no level', () => {
    for (const bytes of [bytesOf('65'), bytesOf('ff'), new Uint8Array(), bytesOf('32 00')])
      expect(decodeBattery(bytes)).toBeNull();
    expect(() => encodeBattery(101)).toThrow(RangeError);
  });
});

describe('Device Information strings', () => {
  const text = (value: string): string | null => decodeText(new TextEncoder().encode(value));

  test('UTF-8, with what firmware pads it with taken off', () => {
    expect(text('MP-0042')).toBe('MP-0042');
    expect(text('MP-0042\0\0')).toBe('MP-0042');
    expect(text('  MP 0042 \r\n')).toBe('MP 0042');
    expect(text('Wägezelle 7')).toBe('Wägezelle 7');
  });

  test('nothing printable, control characters and broken UTF-8 are no text', () => {
    for (const value of ['', '\0\0', '   ', 'MP\u00010', 'a\0b']) expect(text(value)).toBeNull();
    expect(decodeText(bytesOf('4d 50 ff'))).toBeNull();
    expect(decodeText(new Uint8Array(513).fill(0x41))).toBeNull();
  });
});

test('property: any bytes are decoded or are null, never a throw; levels and steps come back', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 40 }), (bytes) => {
      const text = decodeText(bytes);
      if (text !== null) expect(text.trim()).toBe(text);
      const battery = decodeBattery(bytes);
      if (battery !== null) expect(encodeBattery(battery)).toEqual(bytes);
      const celsius = decodeTemperature(bytes);
      if (celsius !== null) expect(encodeTemperature(celsius)).toEqual(bytes);
    }),
    { seed: 12, numRuns: 2000 },
  );
});
