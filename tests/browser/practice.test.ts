import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { expect, onTestFinished } from 'vitest';
import { temporaryFolder } from '../support/temporaryFolder.ts';
import { inBrowser } from './chromium.ts';
import { openBrowser, startPageHost, watchComplaints, type PageHost } from './openPage.ts';

/** The built app in a real browser, as a newcomer would use it. */

const DEADLINE_MS = 45_000;

const start = async (flags: readonly string[]): Promise<PageHost> => {
  const host = await startPageHost(flags);
  onTestFinished(() => host.stop());
  return host;
};

interface Opened {
  readonly page: Page;
  readonly complaints: readonly string[];
}

const openPage = async (url: string): Promise<Opened> => {
  const browser = await openBrowser();
  onTestFinished(() => browser.close());
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  const page = await context.newPage();
  page.setDefaultTimeout(DEADLINE_MS);
  const complaints = watchComplaints(page);
  await page.goto(url);
  return { page, complaints };
};

const settled = (page: Page): Promise<void> =>
  page
    .getByText(/Still for/)
    .first()
    .waitFor();

const openCapture = (page: Page, number: number) =>
  page.getByRole('button', { name: `Open capture ${number}` });

/** What axe finds serious or worse on the page as it stands. */
const seriousFindings = async (page: Page): Promise<readonly string[]> => {
  const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
  // In the page's own world without a script element: the content policy stays as it is.
  await page.evaluate(axe);
  return page.evaluate(async () => {
    const found = await (
      globalThis as unknown as {
        axe: {
          run(): Promise<{
            violations: { id: string; impact: string; nodes: { html: string }[] }[];
          }>;
        };
      }
    ).axe.run();
    return found.violations
      .filter(({ impact }) => impact === 'serious' || impact === 'critical')
      .map(({ id, nodes }) => `${id}: ${nodes[0]?.html ?? ''}`);
  });
};

inBrowser.test(
  'one click to a car on the pads; captured; there after a restart of page and program',
  async () => {
    const dir = temporaryFolder();
    const first = await start(['--data', dir]);
    const { page, complaints } = await openPage(first.url);
    expect(new URL(page.url()).search, 'the token is gone from the address').toBe('');

    await page.getByRole('button', { name: 'Practise on the rig' }).click();
    await settled(page);
    await page.keyboard.press('Space');
    await openCapture(page, 1).waitFor();
    await openCapture(page, 1).click();
    await page.getByText('raw', { exact: false }).first().waitFor();

    await page.reload();
    await openCapture(page, 1).waitFor();
    expect(complaints).toEqual([]);

    const { port } = new URL(page.url());
    await first.stop();
    await page
      .getByText(/link|broken|not joined/i)
      .first()
      .waitFor();
    await start(['--data', dir, '--port', port]);
    const again = await page.context().newPage();
    // The cookie outlives the program: no token is needed.
    await again.goto(`http://127.0.0.1:${port}/`);
    await openCapture(again, 1).waitFor({ timeout: DEADLINE_MS });
  },
);

inBrowser.test(
  'the bench killed: nothing looks live, it comes back, captures are kept',
  async () => {
    const host = await start(['--data', temporaryFolder(), '--pads', 'rig']);
    const { page } = await openPage(host.url);
    await settled(page);
    await page.getByRole('button', { name: 'Capture', exact: true }).click();
    await openCapture(page, 1).waitFor();
    const benchPid = Number(
      readFileSync(`/proc/${host.process.pid}/task/${host.process.pid}/children`, 'utf8')
        .trim()
        .split(' ')[0],
    );
    process.kill(benchPid, 'SIGKILL');
    await page
      .getByText(/Still for/)
      .first()
      .waitFor({ state: 'detached' });
    await settled(page);
    await openCapture(page, 1).waitFor();
  },
);

inBrowser.test('axe finds nothing serious on any screen, daylight and night', async () => {
  const host = await start(['--data', temporaryFolder(), '--pads', 'rig']);
  const { page, complaints } = await openPage(host.url);
  await settled(page);
  for (const scheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme: scheme });
    for (const key of ['2', '3']) {
      await page.keyboard.press(key);
      await page.getByRole('heading').first().waitFor();
      expect(await seriousFindings(page), `${scheme}, screen ${key}`).toEqual([]);
    }
  }
  expect(complaints).toEqual([]);
});
