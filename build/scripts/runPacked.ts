import { spawn } from 'node:child_process';
import { once } from 'node:events';

/**
 * Runs what was packed, taken out of its archive, on Node: every package is loaded from there, and
 * the bench process gets ready and ends when asked. Shows that the list of files is long enough; the window
 * it cannot show.
 */

const DEADLINE_MS = 30_000;

/** In a program of its own, so that nothing is found in our packages. */
const PROGRAM = `
import { createRequire } from 'node:module';
const require = createRequire(process.cwd() + '/package.json');
new (require('better-sqlite3'))(':memory:').close();
require('@abandonware/noble/with-custom-binding.js');
if (process.platform === 'linux') require('@abandonware/bluetooth-hci-socket');
for (const name of ['ws', 'pdfkit', 'qrcode', 'highs']) await import(require.resolve(name));
const { fork } = await import('node:child_process');
const args = ['--data', '../data', '--pads', 'rig'];
const bench = fork('dist/electron/benchProcess.js', args, { execArgv: [] });
bench.on('message', ({ kind }) => {
  if (kind !== 'ready') return;
  console.log('ready');
  bench.send({ kind: 'stop' });
});
bench.on('exit', (code) => process.exit(code ?? 1));
`;

/** Null where it ran, else what it said. */
export const runPacked = async (folder: string): Promise<string | null> => {
  const child = spawn(process.execPath, ['--input-type=module', '-e', PROGRAM], {
    cwd: folder,
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { PATH: process.env['PATH'] ?? '' },
    timeout: DEADLINE_MS,
  });
  let said = '';
  const hear = (chunk: Buffer): void => void (said += chunk.toString());
  child.stdout.on('data', hear);
  child.stderr.on('data', hear);
  const [code] = (await once(child, 'close')) as [number | null];
  return code === 0 && said.includes('ready') ? null : `ended with ${code}: ${said}`;
};
