import { buildIfChanged } from './buildIfChanged.ts';
import { giveUp, rootFolder } from './prepare.mjs';
import { runTool } from './tools.ts';

/**
 * `npm run check`: format, lint, layers, types and tests, the cheap ones first; the hook's and CI's
 * one command. `--without-tests` leaves the last one to `npm test`.
 */

const args = process.argv.slice(2);
if (args.some((arg) => arg !== '--without-tests'))
  giveUp('npm run check takes one flag: --without-tests');

const steps = [
  ['format', 'formatted'],
  ['lint', 'lint'],
  ['layers', 'layers'],
  ['types', 'types'],
] as const;

// All of them, so that one run shows all that is wrong.
const wrong: string[] = [];
for (const [name, tool] of steps) {
  const started = performance.now();
  const code = await runTool(tool);
  const seconds = ((performance.now() - started) / 1000).toFixed(1);
  process.stdout.write(`${name.padEnd(7)} ${code === 0 ? 'good' : 'WRONG'} ${seconds} s\n`);
  if (code !== 0) wrong.push(name);
}
if (wrong.length > 0) giveUp(`Wrong: ${wrong.join(', ')}. npm run format sets the format right.`);

if (args.length === 0) {
  const failed = await buildIfChanged(rootFolder);
  if (failed) giveUp(failed);
  process.exit(await runTool('tests'));
}
