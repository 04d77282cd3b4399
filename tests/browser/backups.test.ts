import { mkdirSync, readdirSync } from 'node:fs';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { temporaryFolder } from '../support/temporaryFolder.ts';
import { inBrowser } from './chromium.ts';
import { seriousFindings } from './seriousFindings.ts';
import { button, DEADLINE_MS, hostFor, openPage, PICTURES, settled } from './testPage.ts';

/** Copies from the page to the disk and back, with the measuring process started anew in between. */

const openCopies = async (page: Page): Promise<void> => {
  await page.getByRole('button', { name: /Garage/ }).click();
  const part = page.getByText('Copies', { exact: true }).first();
  if (await part.isVisible()) await part.click();
  await page.getByLabel('Folder for copies', { exact: true }).waitFor();
};

const capture = async (page: Page, number: number): Promise<void> => {
  await page.getByRole('button', { name: /Balance/ }).click();
  await settled(page);
  await button(page, 'Capture').click();
  await page.getByRole('button', { name: `Open capture ${number}` }).waitFor();
};

const photograph = async (page: Page, name: string): Promise<void> => {
  for (const scheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme: scheme });
    for (const [width, height] of [
      [1280, 800],
      [800, 1280],
    ] as const) {
      await page.setViewportSize({ width, height });
      const label = `copies-${name}-${scheme === 'light' ? 'daylight' : 'night'}-${width}`;
      await page.screenshot({ path: path.join(PICTURES, `${label}.png`) });
      const overhang = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(overhang, `${label} sticks out sideways`).toBeLessThanOrEqual(0);
    }
    expect(await seriousFindings(page), `${name} ${scheme}`).toEqual([]);
  }
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.emulateMedia({ colorScheme: 'light' });
};

inBrowser.test(
  'copied, put back, put back again, and joined with another computer’s records',
  async () => {
    mkdirSync(PICTURES, { recursive: true });
    const [data, stick] = [temporaryFolder(), temporaryFolder()];
    const host = await hostFor(['--data', data, '--seed', '3']);
    const { page } = await openPage(host.url);
    await button(page, 'Practise on the rig').click();
    await capture(page, 1);

    await openCopies(page);
    const folder = page.getByLabel('Folder for copies', { exact: true });
    await folder.fill(path.join(stick, 'gone'));
    await folder.press('Enter');
    await page.getByText(/The folder is not there/).waitFor();
    await folder.fill(stick);
    await folder.press('Enter');
    await button(page, 'Copy now').click();
    await page.getByText('Copied, opened again and checked.').waitFor();
    const [copy] = readdirSync(stick);
    expect(copy).toMatch(/^millpond-\d{8}T\d{6}Z-[a-z0-9]+\.db$/);
    await page.getByRole('button', { name: /^Check / }).click();
    await page.getByText('Read through: it is whole.').waitFor();

    await capture(page, 2);
    await openCopies(page);
    await page.getByRole('button', { name: /^Put back / }).click();
    await page.getByText(/What is here now is set aside first/).waitFor();
    await photograph(page, 'asked');
    await button(page, 'Put it back').click();
    await page.getByText(/^Put back: 1 capture\./).waitFor({ timeout: DEADLINE_MS });
    await page.getByRole('button', { name: /Balance/ }).click();
    await expect
      .poll(() => page.getByRole('button', { name: /^Open capture/ }).count(), {
        timeout: DEADLINE_MS,
      })
      .toBe(1);

    // Joined with what was set aside, both captures are there.
    await openCopies(page);
    await page.getByText('what was set aside here').click();
    await page.getByRole('button', { name: /^Join / }).click();
    await button(page, 'Join them').click();
    await page.getByText(/^Joined: 1 capture/).waitFor({ timeout: DEADLINE_MS });
    await photograph(page, 'joined');
    await page.getByRole('button', { name: /Balance/ }).click();
    await expect
      .poll(() => page.getByRole('button', { name: /^Open capture/ }).count(), {
        timeout: DEADLINE_MS,
      })
      .toBe(2);
    expect(readdirSync(data).filter((name) => name.includes('coming'))).toEqual([]);
  },
);
