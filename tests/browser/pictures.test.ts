import { mkdirSync } from 'node:fs';
import path from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { expect, onTestFinished } from 'vitest';
import { temporaryFolder } from '../support/temporaryFolder.ts';
import { inBrowser } from './chromium.ts';
import { openBrowser, startPageHost, watchComplaints } from './openPage.ts';

/**
 * Photographs every screen in daylight and at night, in three sizes, with the practice rig at one
 * seed, into `.tmp/pictures`, for people to look at (`npm run pictures`). What a machine can judge is
 * judged here: nothing sticks out sideways, the corner figures are large, nothing complains.
 */

const folder = path.resolve(import.meta.dirname, '../../.tmp/pictures');

const SIZES = [
  { width: 1280, height: 800 },
  { width: 1024, height: 768 },
  { width: 800, height: 1280 },
] as const;
const THEMES = [
  { name: 'daylight', colorScheme: 'light' },
  { name: 'night', colorScheme: 'dark' },
] as const;
const DEADLINE_MS = 60_000;

interface View {
  readonly page: Page;
  readonly label: string;
  readonly complaints: readonly string[];
}

const photograph = async (views: readonly View[], name: string): Promise<void> => {
  for (const { page, label, complaints } of views) {
    await page.screenshot({ path: path.join(folder, `${name}-${label}.png`) });
    const overhang = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    expect(overhang, `${name} ${label} sticks out sideways`).toBeLessThanOrEqual(0);
    expect(complaints, `${name} ${label}`).toEqual([]);
  }
};

const openViews = async (browser: Browser, url: string): Promise<readonly View[]> => {
  const first = await browser.newContext();
  await (await first.newPage()).goto(url);
  const storageState = await first.storageState();
  const views: View[] = [];
  for (const size of SIZES)
    for (const { name, colorScheme } of THEMES) {
      const context = await browser.newContext({ viewport: size, colorScheme, storageState });
      const page = await context.newPage();
      page.setDefaultTimeout(DEADLINE_MS);
      const complaints = watchComplaints(page);
      await page.goto(new URL('/', url).href);
      views.push({ page, label: `${name}-${size.width}x${size.height}`, complaints });
    }
  return views;
};

inBrowser.test(
  'every screen in both themes and three sizes',
  async () => {
    mkdirSync(folder, { recursive: true });
    const host = await startPageHost(['--data', temporaryFolder(), '--seed', '1']);
    onTestFinished(() => host.stop());
    const browser = await openBrowser();
    onTestFinished(() => browser.close());
    const views = await openViews(browser, host.url);
    const { page } = views[0] as View;
    const everywhere = async (act: (page: Page) => Promise<unknown>): Promise<void> => {
      for (const view of views) await act(view.page);
    };

    await everywhere((each) => each.getByRole('button', { name: 'Practise on the rig' }).waitFor());
    await photograph(views, '1-start');

    await page.getByRole('button', { name: 'Practise on the rig' }).click();
    await page.getByText('moving').first().waitFor();
    await photograph(views, '2-balance-moving');

    await everywhere((each) =>
      each
        .getByText(/Still for/)
        .first()
        .waitFor(),
    );
    await page.keyboard.press('Space');
    await page.getByRole('button', { name: 'Open capture 1' }).waitFor();
    await photograph(views, '3-balance-settled');

    const figures = await page.evaluate(() =>
      [...document.querySelectorAll('*')]
        .filter((element) => /^\d{3}\.\d+$/.test(element.textContent?.trim() ?? ''))
        .map((element) => Number.parseFloat(getComputedStyle(element).fontSize)),
    );
    expect(
      figures.filter((size) => size >= 56).length,
      'corner figures of 56 px',
    ).toBeGreaterThanOrEqual(4);

    await everywhere((each) => each.keyboard.press('2'));
    await everywhere((each) => each.getByText('Can the pads be trusted?').first().waitFor());
    await photograph(views, '4-pads');
  },
  240_000,
);
