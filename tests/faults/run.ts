/**
 * `npm run faults -- [NAME ...] [--write]`: brings every fault about in full and prints the table;
 * `--write` puts it into DEVELOPERS.md, between its two marks.
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { FAULTS } from './faults.ts';
import { faultRow, isSound, TABLE_HEAD } from './faultTable.ts';

const PAGE = path.resolve(import.meta.dirname, '../../DEVELOPERS.md');
const [BEGIN, END] = ['<!-- faults -->', '<!-- /faults -->'] as const;

const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: { write: { type: 'boolean', default: false } },
});
const asked = FAULTS.filter(
  ({ name }) => positionals.length === 0 || positionals.some((part) => name.includes(part)),
);
const rows: string[] = [];
let wrong = 0;
for (const fault of asked) {
  const dir = mkdtempSync(path.join(tmpdir(), 'millpond-fault-'));
  try {
    const observed = await fault.run(dir, 1);
    if (!isSound(observed)) wrong += 1;
    rows.push(faultRow(fault, observed));
    process.stderr.write(`${fault.name}: ${isSound(observed) ? 'good' : 'WRONG'}\n`);
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
}
const table = [...TABLE_HEAD, ...rows].join('\n');
console.log(table);
if (values.write) {
  const text = readFileSync(PAGE, 'utf8');
  const [from, to] = [text.indexOf(BEGIN), text.indexOf(END)];
  if (from < 0 || to < from) throw new Error(`DEVELOPERS.md has no ${BEGIN} … ${END}`);
  writeFileSync(PAGE, `${text.slice(0, from + BEGIN.length)}\n\n${table}\n\n${text.slice(to)}`);
}
console.log(`${rows.length} faults, ${wrong} with a claim that does not hold`);
process.exit(wrong > 0 ? 1 : 0);
