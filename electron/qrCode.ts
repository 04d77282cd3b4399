import { create } from 'qrcode';

/**
 * A text as a QR code (ISO/IEC 18004, level M): modules on a side without the quiet zone, and an SVG path
 * of the dark ones, one unit each. A path and not a picture, so that whoever draws it parses no markup.
 */
export const qrCode = (text: string): { readonly size: number; readonly path: string } => {
  const { modules } = create(text, { errorCorrectionLevel: 'M' });
  const { size } = modules;
  let path = '';
  for (let row = 0; row < size; row += 1)
    for (let column = 0; column < size; column += 1)
      if (modules.get(row, column)) path += `M${column} ${row}h1v1h-1z`;
  return { size, path };
};
