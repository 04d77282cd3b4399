import { createRequire } from 'node:module';
import path from 'node:path';

/** Where the product's own face lies before it is built. */
export const FONT_FOLDER = path.join(
  path.dirname(createRequire(import.meta.url).resolve('@fontsource/b612/package.json')),
  'files',
);
