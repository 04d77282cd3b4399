import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { temporaryFolder } from '../support/temporaryFolder.ts';
import { inBrowser } from './chromium.ts';
import { DEADLINE_MS, hostFor, openPage, settled } from './testPage.ts';

/** The built app in a real browser, as a newcomer would use it. */

const openCapture = (page: Page, number: number) =>
  page.getByRole('button', { name: `Open capture ${number}` });

inBrowser.test(
  'one click to a car on the pads; captured; there after a restart of page and program',
  async () => {
    const dir = temporaryFolder();
    const first = await hostFor(['--data', dir]);
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
    await hostFor(['--data', dir, '--port', port]);
    const again = await page.context().newPage();
    // The cookie outlives the program: no token is needed.
    await again.goto(`http://127.0.0.1:${port}/`);
    await openCapture(again, 1).waitFor({ timeout: DEADLINE_MS });
  },
);

inBrowser.test(
  'the bench killed: nothing looks live, it comes back, captures are kept',
  async () => {
    const host = await hostFor(['--data', temporaryFolder(), '--pads', 'rig']);
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
