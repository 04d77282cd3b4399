import { readFileSync } from 'node:fs';

/** One line of a comma-separated file by the names in its first line. */
export type Row = Readonly<Record<string, string>>;

/** Rows of a comma-separated file. No field holds a comma or a quote. Throws on a ragged line. */
export const readRows = (file: string): readonly Row[] => {
  const [head, ...lines] = readFileSync(file, 'utf8').trim().split(/\r?\n/);
  const names = (head ?? '').split(',');
  return lines.map((line) => {
    const fields = line.split(',');
    if (fields.length !== names.length) throw new Error(`not ${names.length} fields: ${line}`);
    return Object.fromEntries(names.map((name, index) => [name, fields[index] as string]));
  });
};
