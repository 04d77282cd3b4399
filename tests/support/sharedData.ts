import { existsSync } from 'node:fs';
import path from 'node:path';
import { needs, type NeedingTest } from './needs.ts';

/** Reference data that is not part of the repository lies in a folder beside it. */
const folder = path.resolve(import.meta.dirname, '../../../shared/data');

/** The file's path, and tests that are skipped, in CI too, where the machine does not have it. */
export const sharedData = (name: string): NeedingTest & { readonly file: string } => {
  const file = path.join(folder, name);
  const reason = `reference data ${name} is not beside the repository`;
  return { file, ...needs({ has: existsSync(file), reason, mayLackInCi: true }) };
};
