import { runTool } from './tools.ts';

/** `npm run format`: writes every file of code in the one format. */

process.exit(await runTool('format'));
