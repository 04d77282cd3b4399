import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';

/**
 * BlueZ's own emulator: a controller that nobody here wrote. It serves one pad at a time, because
 * version 5.66 passes connection handles through unchanged.
 */

/** Where the emulator listens for low-energy controllers; fixed in the emulator. */
export const BTVIRT_SOCKET = '/tmp/bt-server-le';
const START_DEADLINE_MS = 5000;
const LOOK_PERIOD_MS = 20;

const onPath = (program: string): boolean =>
  (process.env['PATH'] ?? '')
    .split(path.delimiter)
    .some((folder) => folder !== '' && existsSync(path.join(folder, program)));

/** What the machine lacks to run the emulator; empty where nothing. */
export const btvirtLacks = (): readonly string[] =>
  process.platform === 'linux'
    ? ['btvirt', 'gcc'].filter((program) => !onPath(program))
    : ['Linux'];

const ended = (child: ChildProcess): Promise<void> =>
  new Promise((resolve) => {
    if (child.exitCode !== null || child.signalCode !== null) resolve();
    else child.once('exit', () => resolve());
  });

/**
 * Starts the emulator; settles when it listens. The returned function ends it. Where the kernel
 * lacks AF_ALG the emulator closes every connection, so a small library answers those calls.
 */
export const startBtvirt = async (): Promise<() => Promise<void>> => {
  const folder = mkdtempSync(path.join(tmpdir(), 'millpond-btvirt-'));
  const library = path.join(folder, 'withoutKernelCrypto.so');
  const source = path.join(import.meta.dirname, 'withoutKernelCrypto.c');
  execFileSync('gcc', ['-shared', '-fPIC', '-O1', '-Wall', '-o', library, source, '-ldl']);
  rmSync(BTVIRT_SOCKET, { force: true });
  const child = spawn('btvirt', ['-s'], {
    env: { ...process.env, LD_PRELOAD: library },
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  const stop = async (): Promise<void> => {
    const end = ended(child);
    child.kill('SIGKILL');
    await end;
    rmSync(folder, { recursive: true, force: true });
  };
  const deadline = performance.now() + START_DEADLINE_MS;
  while (!existsSync(BTVIRT_SOCKET)) {
    if (child.exitCode !== null || performance.now() > deadline) {
      await stop();
      throw new Error(`btvirt did not listen at ${BTVIRT_SOCKET}`);
    }
    await new Promise((resolve) => setTimeout(resolve, LOOK_PERIOD_MS));
  }
  return stop;
};
