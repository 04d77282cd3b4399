import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { chromium as playwright, type Browser, type Page } from 'playwright-core';
import { chromium } from './chromium.ts';

/** The built app as a user has it: the page host as a program of its own, and a browser. */

const root = path.resolve(import.meta.dirname, '../..');
const ADDRESS = /^Millpond is at (http:\/\/\S+)$/;
const START_DEADLINE_MS = 20_000;

export interface PageHost {
  /** The address as printed, with its token. */
  readonly url: string;
  readonly process: ChildProcess;
  stop(): Promise<void>;
}

/** Starts the built page host with these flags; settles when it has printed its address. */
export const startPageHost = async (flags: readonly string[]): Promise<PageHost> => {
  const host = spawn(
    process.execPath,
    [path.join(root, 'dist/electron/pageHost.js'), '--page', ...flags],
    { cwd: root, stdio: ['ignore', 'pipe', 'pipe'] },
  );
  const said: string[] = [];
  host.stderr.on('data', (chunk: Buffer) => said.push(chunk.toString()));
  const { promise, resolve, reject } = Promise.withResolvers<string>();
  const late = setTimeout(
    () => reject(new Error(`the page host printed no address: ${said.join('')}`)),
    START_DEADLINE_MS,
  );
  host.once('exit', (code) => reject(new Error(`the page host ended (${code}): ${said.join('')}`)));
  createInterface({ input: host.stdout }).on('line', (line) => {
    said.push(`${line}\n`);
    const address = ADDRESS.exec(line)?.[1];
    if (address !== undefined) resolve(address);
  });
  try {
    const url = await promise;
    return {
      url,
      process: host,
      stop: async () => {
        if (host.exitCode !== null || host.signalCode !== null) return;
        const ended = once(host, 'exit');
        host.kill('SIGTERM');
        await ended;
      },
    };
  } finally {
    clearTimeout(late);
  }
};

/** A browser without a window; the flags keep it from looking for anything outside this machine. */
export const openBrowser = (): Promise<Browser> =>
  playwright.launch({
    executablePath: chromium ?? '',
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });

/** Everything a page complains of: a clean page leaves this empty. */
export const watchComplaints = (page: Page): readonly string[] => {
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning')
      complaints.push(`${message.type()}: ${message.text()}`);
  });
  page.on('pageerror', (error) => complaints.push(`thrown: ${error.message}`));
  return complaints;
};
