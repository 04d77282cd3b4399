import os from 'node:os';
import path from 'node:path';
import { createRealScheduler } from './clock.ts';
import { parseFlags, benchFlags } from './flags.ts';
import { createForkBench } from './forkBench.ts';
import { openLocalPage } from './localPage.ts';

/**
 * Entry of the local page: bench and page without Electron. Standard output carries one line, the
 * address; everything else goes to standard error.
 */

const log = (line: string): void => void process.stderr.write(`page: ${line}\n`);

const parsed = parseFlags(process.argv.slice(2), {
  platform: process.platform,
  env: process.env,
  home: os.homedir(),
  cwd: process.cwd(),
});

if (parsed.kind === 'help') {
  process.stdout.write(parsed.text);
} else if (parsed.kind === 'wrong') {
  process.stderr.write(`${parsed.why}\n`);
  process.exitCode = 2;
} else {
  const { flags } = parsed;
  const here = import.meta.dirname;
  // The same file from source and from the bundle, where its siblings lie beside it too.
  const entry = path.join(here, `benchProcess${path.extname(import.meta.filename)}`);
  const built = path.extname(import.meta.filename) === '.js';
  const assetsDir = path.join(here, built ? '../renderer' : '../dist/renderer');

  let stopping = false;
  let close = async (): Promise<void> => undefined;
  const stop = (): void => {
    if (stopping) return;
    stopping = true;
    close().then(
      () => process.exit(0),
      (error: unknown) => {
        log(String(error));
        process.exit(1);
      },
    );
  };
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, stop);

  try {
    const page = await openLocalPage({
      flags,
      assetsDir,
      spawn: createForkBench(entry, benchFlags(flags)),
      scheduler: createRealScheduler(),
      log,
    });
    close = page.close;
    process.stdout.write(`Millpond is at ${page.address}\n`);
  } catch (error) {
    process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
    process.exit(1);
  }
}
