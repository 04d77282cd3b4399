import { buildIfChanged } from './buildIfChanged.ts';
import { giveUp, rootFolder } from './prepare.mjs';
import { runTool } from './tools.ts';

/** `npm test`: builds what the browser tests open and runs every test; arguments go to the runner. */

const failed = await buildIfChanged(rootFolder);
if (failed) giveUp(failed);
process.exit(await runTool('tests', process.argv.slice(2)));
