import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { chromium as playwright, type Page } from 'playwright-core';
import type { Question, Report } from './standIn/report.ts';

/** A running desktop program, whichever runtime it has, seen over Chromium's debugging port. */
export interface Desktop {
  readonly page: Page;
  readonly pid: number;
  /** Everything it said on standard error, line by line. */
  readonly said: readonly string[];
  /** Questions that only the stand-in answers. */
  ask(question?: Omit<Question, 'ask'>): Promise<Report>;
  /** Asks the program to end, as the system does; settles with its exit code. */
  stop(): Promise<number | null>;
  /** Settles with its exit code once it has ended by itself. */
  readonly ended: Promise<number | null>;
}

const START_DEADLINE_MS = 30_000;

/** Starts it and settles when its window is there. Rejects, with what it said, where it is not. */
export const startDesktop = async (
  program: string,
  args: readonly string[],
  environment: Readonly<Record<string, string>> = {},
): Promise<Desktop> => {
  const child = spawn(program, [...args], {
    stdio: ['ignore', 'ignore', 'pipe', 'ipc'],
    env: { ...process.env, ...environment },
  });
  const ended = once(child, 'exit').then(([code]) => code as number | null);
  const said: string[] = [];
  const address = Promise.withResolvers<string>();
  address.promise.catch(() => undefined);
  createInterface({ input: child.stderr ?? process.stdin }).on('line', (line) => {
    said.push(line);
    const found = /^DevTools listening on (ws:\S+)$/.exec(line)?.[1];
    if (found !== undefined) address.resolve(found);
  });
  const fail = (why: string): void => address.reject(new Error(`${why}:\n${said.join('\n')}`));
  child.once('error', (error) => fail(error.message));
  child.once('exit', (code) => fail(`the program ended (${code})`));
  const late = setTimeout(() => fail('no window in time'), START_DEADLINE_MS);

  const waiting = new Map<number, (report: Report) => void>();
  child.on('message', ({ answer, report }: { answer: number; report: Report }) => {
    waiting.get(answer)?.(report);
    waiting.delete(answer);
  });
  let asked = 0;

  const stop = async (): Promise<number | null> => {
    if (child.exitCode === null && child.signalCode === null) child.kill('SIGTERM');
    const code = await ended;
    if (child.connected) child.disconnect();
    return code;
  };
  try {
    const browser = await playwright.connectOverCDP(await address.promise);
    const context = browser.contexts()[0];
    if (!context) throw new Error('no window');
    const page = context.pages()[0] ?? (await context.waitForEvent('page'));
    page.setDefaultTimeout(START_DEADLINE_MS);
    await page.waitForURL((url) => url.protocol !== 'about:');
    return {
      page,
      pid: child.pid ?? 0,
      said,
      ended,
      stop,
      ask: (question = {}) =>
        new Promise((resolve) => {
          asked += 1;
          waiting.set(asked, resolve);
          child.send({ ...question, ask: asked });
        }),
    };
  } catch (error) {
    child.kill('SIGKILL');
    await ended;
    throw error;
  } finally {
    clearTimeout(late);
  }
};
