import { spawn } from 'node:child_process';
import { once } from 'node:events';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { chromium as playwright, type BrowserContext } from 'playwright-core';

/** A real Chromium for the windows. Its standard error goes on: it names the address for debuggers. */

export interface Chromium {
  readonly context: BrowserContext;
  close(): Promise<void>;
}

const FLAGS = [
  '--headless=new',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--window-size=1280,800',
  '--remote-debugging-port=0',
];

export const openChromium = async (userData: string): Promise<Chromium> => {
  const program = process.env['CHROME_PATH'] ?? 'chromium';
  const profile = `--user-data-dir=${path.join(userData, 'chromium')}`;
  const child = spawn(program, [...FLAGS, profile, 'about:blank'], {
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  // However this program ends, nothing of it stays.
  process.on('exit', () => child.kill('SIGKILL'));
  const { promise, resolve, reject } = Promise.withResolvers<string>();
  child.once('error', reject);
  child.once('exit', (code) => reject(new Error(`Chromium ended with ${code}`)));
  createInterface({ input: child.stderr }).on('line', (line) => {
    const address = /^DevTools listening on (ws:\S+)$/.exec(line)?.[1];
    if (address === undefined) return;
    process.stderr.write(`${line}\n`);
    resolve(address);
  });
  const browser = await playwright.connectOverCDP(await promise);
  const context = browser.contexts()[0];
  if (!context) throw new Error('Chromium has no window');
  return {
    context,
    close: async () => {
      const ended = child.exitCode === null ? once(child, 'exit') : null;
      child.kill('SIGKILL');
      await ended;
    },
  };
};
