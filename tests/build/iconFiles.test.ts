import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { icnsFile, icoFile } from '../../build/scripts/iconFiles.ts';

/** The width in a PNG's header (PNG specification, 11.2.1): bytes 16 to 19. */
const pngSide = (png: Buffer): number => {
  expect(png.subarray(0, 8)).toEqual(Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]));
  return png.readUInt32BE(16);
};

const icons = path.resolve(import.meta.dirname, '../../build/icons');

test('the icon for Windows holds each size where its table says', () => {
  const file = readFileSync(path.join(icons, 'icon.ico'));
  expect([file.readUInt16LE(0), file.readUInt16LE(2)]).toEqual([0, 1]);
  const sides = Array.from({ length: file.readUInt16LE(4) }, (_, index) => {
    const entry = 6 + 16 * index;
    const at = file.readUInt32LE(entry + 12);
    const side = pngSide(file.subarray(at, at + file.readUInt32LE(entry + 8)));
    expect(file.readUInt8(entry)).toBe(side % 256);
    return side;
  });
  expect(sides).toEqual([16, 24, 32, 48, 64, 128, 256]);
});

test('the icon for macOS is whole and holds its largest size', () => {
  const file = readFileSync(path.join(icons, 'icon.icns'));
  expect(file.toString('latin1', 0, 4)).toBe('icns');
  expect(file.readUInt32BE(4)).toBe(file.length);
  const found: Record<string, number> = {};
  for (let at = 8; at < file.length; at += file.readUInt32BE(at + 4))
    found[file.toString('latin1', at, at + 4)] = pngSide(file.subarray(at + 8));
  expect(found).toEqual({
    ic11: 32,
    ic12: 64,
    ic07: 128,
    ic08: 256,
    ic13: 256,
    ic09: 512,
    ic14: 512,
    ic10: 1024,
  });
});

test('both are made of what they are given', () => {
  const png = Uint8Array.of(1, 2, 3);
  expect(icoFile([{ side: 256, png }])).toEqual(
    Buffer.from([
      ...[0, 0, 1, 0, 1, 0],
      ...[0, 0, 0, 0, 1, 0, 32, 0, 3, 0, 0, 0, 22, 0, 0, 0],
      ...[1, 2, 3],
    ]),
  );
  expect(
    icnsFile([
      { side: 32, png },
      { side: 33, png },
    ]),
  ).toEqual(
    Buffer.concat([
      Buffer.from('icns'),
      Buffer.from([0, 0, 0, 19]),
      Buffer.from('ic11'),
      Buffer.from([0, 0, 0, 11, 1, 2, 3]),
    ]),
  );
});
