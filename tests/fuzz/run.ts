import { parseArgs } from 'node:util';
import { startCoverage } from './coverage.ts';
import type { Fuzzed } from './loop.ts';

/**
 * The whole of it: `npm run fuzz -- --bytes 10000000 --json 1000000 --text 1000000 --seed 1 --only NAME`. The numbers
 * are inputs of all targets of that kind together. Ends with 1 where something was found.
 */

const { values } = parseArgs({
  options: {
    bytes: { type: 'string', default: '10000000' },
    json: { type: 'string', default: '1000000' },
    text: { type: 'string', default: '1000000' },
    seed: { type: 'string', default: '1' },
    only: { type: 'string' },
  },
});

// Before the product's own files are loaded, else they are not counted.
const coverage = startCoverage();
const { BYTES_TARGETS, JSON_TARGETS, TEXT_TARGETS } = await import('./targets.ts');
const { fuzz } = await import('./loop.ts');
const { startWatchdog } = await import('./watchdog.ts');

const watchdog = startWatchdog();
const seed = Number(values.seed);
const batch = 2000;
let found = 0;

const say = (done: Fuzzed): void => {
  const { ranges, findings } = done;
  console.log(
    `${done.name.padEnd(18)} ${String(done.inputs).padStart(8)} inputs  ${String(Math.round(done.inputs / done.seconds)).padStart(7)}/s  ` +
      `${String(done.accepted).padStart(7)} accepted  corpus ${String(done.corpus).padStart(4)}  ` +
      `ranges ${ranges.run} of ${ranges.known}  slowest ${done.slowestMs.toFixed(1)} ms  ` +
      `heap ${done.mostKb} kB  findings ${findings.length}`,
  );
  for (const { what, input } of findings)
    console.log(`  ${what}\n  input: ${input.slice(0, 4000)}`);
  found += findings.length;
};

const wanted = ({ name }: { readonly name: string }): boolean =>
  values.only === undefined || name === values.only;

const { before } = watchdog;
for (const target of BYTES_TARGETS.filter(wanted)) {
  const inputs = Math.ceil(Number(values.bytes) / BYTES_TARGETS.length);
  say(fuzz(target, { inputs, seed, coverage, batch, before }));
}
for (const target of JSON_TARGETS.filter(wanted)) {
  const inputs = Math.ceil(Number(values.json) / JSON_TARGETS.length);
  say(fuzz(target, { inputs, seed, coverage, batch: 250, before }));
}
for (const target of TEXT_TARGETS.filter(wanted)) {
  const inputs = Math.ceil(Number(values.text) / TEXT_TARGETS.length);
  say(fuzz(target, { inputs, seed, coverage, batch, before }));
}
coverage.stop();
await watchdog.stop();
console.log(found === 0 ? 'Nothing was found.' : `${found} findings.`);
process.exitCode = found === 0 ? 0 : 1;
