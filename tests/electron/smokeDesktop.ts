import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { electronProgram, thisMachine, whyNoDisplay } from '../../build/scripts/electronRuntime.ts';
import { buildIfChanged } from '../../build/scripts/buildIfChanged.ts';
import { giveUp, rootFolder } from '../../build/scripts/prepare.mjs';
import { startDesktop } from './desktopProgram.ts';
import { DESKTOP_STEPS } from './desktopScript.ts';

/**
 * `npm run smoke:desktop`: the desktop steps on Electron's real runtime, where it is present; with
 * `-- --program FILE` on a packaged program. Where it cannot run it says so, and that is an error
 * only with `--require`.
 */

const args = process.argv.slice(2);
const required = args.includes('--require');
const named = args.includes('--program') ? args[args.indexOf('--program') + 1] : undefined;

const whyNot = (): string | null => {
  const noDisplay = whyNoDisplay(thisMachine());
  if (noDisplay !== null) return noDisplay;
  if (named !== undefined || electronProgram(rootFolder, process.env) !== null) return null;
  return "Electron's runtime is not here (node node_modules/electron/install.js fetches it)";
};

const why = whyNot();
if (why !== null) {
  process.stdout.write(`smoke:desktop did NOT run: ${why}. Nothing was shown.\n`);
  process.exit(required ? 1 : 0);
}

const failed = named === undefined ? await buildIfChanged(rootFolder) : null;
if (failed !== null) giveUp(failed);
const dataDir = mkdtempSync(path.join(tmpdir(), 'millpond-smoke-'));
const flags = ['--data', dataDir, '--pads', 'rig', '--remote-debugging-port=0'];
const program = named ?? electronProgram(rootFolder, process.env) ?? '';
const main = named === undefined ? [path.join(rootFolder, 'dist/electron/main.js')] : [];
const desktop = await startDesktop(program, [...main, ...flags]);
let wrong = 0;
for (const { name, run } of DESKTOP_STEPS) {
  try {
    await run(desktop);
    process.stdout.write(`good   ${name}\n`);
  } catch (error) {
    wrong += 1;
    process.stdout.write(`WRONG  ${name}: ${error instanceof Error ? error.message : ''}\n`);
    break;
  }
}
await desktop.stop();
rmSync(dataDir, { recursive: true, force: true });
if (wrong > 0) process.stderr.write(`${desktop.said.join('\n')}\n`);
process.exit(wrong > 0 ? 1 : 0);
