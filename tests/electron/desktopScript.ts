import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import type { Page } from 'playwright-core';
import { setTimeout as pause } from 'node:timers/promises';
import type { Desktop } from './desktopProgram.ts';

/**
 * What a desktop program has to do, step by step, on whatever runtime it runs: the built one under
 * the stand-in, the real one, a packaged one. Started with `--pads rig`.
 */

const DEADLINE_MS = 45_000;

/** Waits until it holds: what is watched is another program. */
const until = async (what: string, holds: () => boolean | Promise<boolean>): Promise<void> => {
  const deadline = performance.now() + DEADLINE_MS;
  while (!(await holds())) {
    if (performance.now() > deadline) throw new Error(`not in time: ${what}`);
    await pause(50);
  }
};

const settled = (page: Page): Promise<void> =>
  page
    .getByText(/Still for/)
    .first()
    .waitFor({ timeout: DEADLINE_MS });

/** The bench's own process below the program; null where it is not there, or cannot be seen here. */
export const benchPid = (mainPid: number): number | null => {
  const rows = execFileSync('ps', ['-A', '-o', 'pid=,ppid=,args='], { encoding: 'utf8' })
    .split('\n')
    .map((row) => /^\s*(\d+)\s+(\d+)\s+(.*)$/.exec(row))
    .filter((row) => row !== null)
    .map(([, pid, parent, args]) => ({ pid: Number(pid), parent: Number(parent), args: args! }));
  const below = new Set([mainPid]);
  for (let found = 0; found !== below.size;) {
    found = below.size;
    for (const { pid, parent } of rows) if (below.has(parent)) below.add(pid);
  }
  // Electron's own name of a utility process that runs Node, and the stand-in's.
  const bench = /utility-sub-type=node\.mojom\.NodeService|benchProcess\.js/;
  return (
    rows.find(({ pid, args }) => pid !== mainPid && below.has(pid) && bench.test(args))?.pid ?? null
  );
};

/** Addresses that a page may try and that must lead nowhere. */
export const HOSTILE_ADDRESSES = [
  'https://example.org/',
  'http://127.0.0.1:17310/',
  'file:///etc/passwd',
  'data:text/html,<title>taken</title>',
  'javascript:void(document.title="taken")',
  'mailto:crew@example.org',
  'chrome://settings/',
  'millpond2://app/',
] as const;

const link = (page: Page): Promise<unknown> =>
  page.evaluate(() => {
    const bridge = (globalThis as unknown as { millpond?: object }).millpond;
    const node = ['require', 'process', 'Buffer', 'module'].filter((name) => name in globalThis);
    return { bridge: bridge ? Object.keys(bridge) : null, frozen: Object.isFrozen(bridge), node };
  });

/** Ways in which a page may try to go somewhere, or to have something in itself. */
const WAYS = ['link', 'new window link', 'open', 'form', 'iframe', 'webview', 'embed'] as const;

const goHostile = async (page: Page, address: string): Promise<void> => {
  const before = page.url();
  for (const way of WAYS) {
    await page.evaluate(
      ([url, how]) => {
        const put = (name: string, attributes: Readonly<Record<string, string>>): HTMLElement => {
          const element = document.createElement(name);
          for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
          document.body.append(element);
          setTimeout(() => element.remove(), 100);
          return element;
        };
        if (how === 'link') put('a', { href: url }).click();
        else if (how === 'new window link') put('a', { href: url, target: '_blank' }).click();
        else if (how === 'open') window.open(url);
        else if (how === 'form') (put('form', { action: url }) as HTMLFormElement).submit();
        else put(how, { src: url });
      },
      [address, way] as const,
    );
    await pause(150);
    await until(`no second window`, () => page.context().pages().length === 1);
    assert.equal(page.url(), before, `${address} took the page away (${way})`);
    assert.notEqual(await page.title(), 'taken', `${address} changed the page (${way})`);
  }
};

/** A step has a name and settles, or throws what was wrong. */
export interface Step {
  readonly name: string;
  readonly run: (desktop: Desktop) => Promise<void>;
}

export const DESKTOP_STEPS: readonly Step[] = [
  {
    name: 'the window shows the page, the bridge is there and nothing of Node is',
    run: async ({ page }) => {
      assert.deepEqual(await link(page), { bridge: ['connect'], frozen: true, node: [] });
      assert.equal(await page.title(), 'Millpond');
    },
  },
  {
    name: 'a capture goes through',
    run: async ({ page }) => {
      await settled(page);
      await page.getByRole('button', { name: 'Capture', exact: true }).click();
      await page.getByRole('button', { name: 'Open capture 1' }).waitFor({ timeout: DEADLINE_MS });
    },
  },
  {
    name: 'the bench is killed: nothing looks live, it comes back, the capture is kept',
    run: async ({ page, pid }) => {
      if (process.platform === 'win32') throw new Error('processes cannot be listed here');
      const first = benchPid(pid);
      assert.ok(first !== null, 'no bench process was found');
      process.kill(first, 'SIGKILL');
      await page
        .getByText(/Still for/)
        .first()
        .waitFor({ state: 'detached' });
      await settled(page);
      const second = benchPid(pid);
      assert.ok(second !== null && second !== first, 'no other bench process was found');
      await page.getByRole('button', { name: 'Open capture 1' }).waitFor();
    },
  },
  {
    name: 'hostile addresses go nowhere',
    run: async ({ page }) => {
      for (const address of HOSTILE_ADDRESSES) await goHostile(page, address);
      // It is still the same page, and it still works. (Asked of the page itself: the debugger waits
      // for ever for an address of a program that is not there.)
      await until('the page is live', () =>
        page.evaluate(() => document.body.innerText.includes('Still for')),
      );
    },
  },
  {
    name: 'the page is loaded anew and joins again',
    run: async ({ page }) => {
      await page.reload();
      await settled(page);
      await page.getByRole('button', { name: 'Open capture 1' }).waitFor();
    },
  },
  {
    name: 'closing the window ends the program and its bench, cleanly',
    run: async ({ page, pid, ended }) => {
      const bench = benchPid(pid);
      await page.close();
      assert.equal(await ended, 0);
      if (bench !== null)
        await until('the bench process has ended', () => {
          try {
            process.kill(bench, 0);
            return false;
          } catch {
            return true;
          }
        });
    },
  },
];
