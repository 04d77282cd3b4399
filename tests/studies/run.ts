/**
 * `npm run study -- [NAME ...]`: runs the studies named, or all; `--share 0.1` a tenth of each.
 * Their figures are kept in DEVELOPERS.md.
 */
import { cpus, loadavg } from 'node:os';
import { readdir } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import type { Study } from './study.ts';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { share: { type: 'string', default: '1' } },
});
const share = Number(values.share);
if (!(share > 0 && share <= 1))
  throw new RangeError(`a share of the study is 0 to 1: ${values.share}`);

const isStudy = (found: unknown): found is { readonly study: Study } =>
  typeof found === 'object' && found !== null && 'study' in found;
const studies: Study[] = [];
for (const file of (await readdir(import.meta.dirname)).toSorted()) {
  if (!file.endsWith('.ts') || file === 'run.ts') continue;
  const found: unknown = await import(`./${file}`);
  if (isStudy(found)) studies.push(found.study);
}
const names = studies.map(({ name }) => name);
for (const asked of positionals)
  if (!names.includes(asked))
    throw new RangeError(`no study ${asked}; there are ${names.join(', ')}`);

console.log(
  `${cpus()[0]?.model ?? 'unknown processor'}, load ${loadavg()[0]?.toFixed(2)}, node ${process.version}`,
);
for (const study of studies) {
  if (positionals.length > 0 && !positionals.includes(study.name)) continue;
  console.log(`\n${study.name}: ${study.about}`);
  const begun = performance.now();
  await study.run(share, (line) => console.log(`  ${line}`));
  console.log(`  took ${((performance.now() - begun) / 1000).toFixed(0)} s`);
}
