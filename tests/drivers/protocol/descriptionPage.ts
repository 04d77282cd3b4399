import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { DescribedPad } from '../../../drivers/pads/protocol/description/compileDescription.ts';
import { parseDescription } from '../../../drivers/pads/protocol/description/parseDescription.ts';

/** One payload of the page on pad descriptions: loads, or null where it must be refused. */
export interface PageTry {
  readonly try: string;
  readonly hex: string;
  readonly loads: readonly string[] | null;
}

const PAGE = readFileSync(path.resolve('drivers', 'pads', 'protocol', 'padDescription.md'), 'utf8');

export const pageBlocks: readonly string[] = [...PAGE.matchAll(/```json\n([^`]*)```/g)].map(
  ([, json]) => json ?? '',
);

/** Texts of the page's descriptions, by name. */
export const pageTexts: ReadonlyMap<string, string> = new Map(
  pageBlocks
    .filter((text) => text.includes('"format"'))
    .map((text) => [(JSON.parse(text) as { name: string }).name, text]),
);

export const pageTries: readonly PageTry[] = pageBlocks
  .filter((text) => !text.includes('"format"'))
  .map((text) => JSON.parse(text) as PageTry);

/** The pad that a text describes. Throws with its problems where it describes none. */
export const padOf = (text: string): DescribedPad => {
  const parsed = parseDescription(text);
  if (parsed.ok) return parsed.pad;
  throw new Error(parsed.problems.map(({ path: at, what }) => `${at}: ${what}`).join('\n'));
};

export const pagePad = (name: string): DescribedPad => {
  const text = pageTexts.get(name);
  if (text === undefined) throw new Error(`the page has no description ${name}`);
  return padOf(text);
};

export const bytesOf = (hex: string): Uint8Array =>
  Uint8Array.from(hex.replaceAll(' ', '').match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));

/** Loads as text with their unit; null where the payload is refused. */
export const loadsOf = (pad: DescribedPad, bytes: Uint8Array): readonly string[] | null => {
  const weighed = pad.weigh(bytes);
  return weighed.ok ? weighed.loads.map(({ value, unit }) => `${value} ${unit}`) : null;
};
