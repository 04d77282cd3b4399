/** Icon containers of pictures in PNG, as Windows and macOS read them: pure. */

export interface Picture {
  /** Pixels of a side. */
  readonly side: number;
  readonly png: Uint8Array;
}

/** An .ico file (six bytes, sixteen a picture, then the PNGs); sides up to 256. */
export const icoFile = (pictures: readonly Picture[]): Uint8Array => {
  const head = Buffer.alloc(6 + 16 * pictures.length);
  head.writeUInt16LE(1, 2);
  head.writeUInt16LE(pictures.length, 4);
  let at = head.length;
  pictures.forEach(({ side, png }, index) => {
    const entry = 6 + 16 * index;
    // A byte: 256 is written as zero.
    head.writeUInt8(side % 256, entry);
    head.writeUInt8(side % 256, entry + 1);
    head.writeUInt16LE(1, entry + 4);
    head.writeUInt16LE(32, entry + 6);
    head.writeUInt32LE(png.length, entry + 8);
    head.writeUInt32LE(at, entry + 12);
    at += png.length;
  });
  return Buffer.concat([head, ...pictures.map(({ png }) => png)]);
};

/** Types of an .icns file that hold a PNG, by the pixels of a side; from memory of the format. */
const ICNS_TYPES: ReadonlyMap<number, readonly string[]> = new Map([
  [32, ['ic11']],
  [64, ['ic12']],
  [128, ['ic07']],
  [256, ['ic08', 'ic13']],
  [512, ['ic09', 'ic14']],
  [1024, ['ic10']],
]);

/** An .icns file: each picture under every type of its size, others left out. */
export const icnsFile = (pictures: readonly Picture[]): Uint8Array => {
  const block = (type: string, content: Uint8Array): Buffer => {
    const head = Buffer.alloc(8);
    head.write(type, 'latin1');
    head.writeUInt32BE(8 + content.length, 4);
    return Buffer.concat([head, content]);
  };
  const blocks = pictures.flatMap(({ side, png }) =>
    (ICNS_TYPES.get(side) ?? []).map((type) => block(type, png)),
  );
  return block('icns', Buffer.concat(blocks));
};
