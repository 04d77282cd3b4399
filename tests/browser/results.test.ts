import path from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { inBrowser } from './chromium.ts';
import { button, openPractice, PICTURES, settled } from './testPage.ts';

/** What stands behind a result: its uncertainty, itself under another calibration, how it repeats. */

const capture = async (page: Page, number: number): Promise<void> => {
  await settled(page);
  await button(page, 'Capture').click();
  await page.getByRole('button', { name: `Open capture ${number}` }).waitFor();
};

inBrowser.test(
  'a capture says where its uncertainty comes from, is computed again, and two of them make a study',
  async () => {
    const { page, complaints } = await openPractice(4);
    await capture(page, 1);
    await button(page, 'Raise').click();
    await page.getByText('raised', { exact: true }).waitFor();
    await button(page, 'Lower').click();
    // While it comes down and rocks it is said where it is going, and that this is provisional.
    await page
      .getByText(/provisional/)
      .first()
      .waitFor();
    await page.screenshot({ path: path.join(PICTURES, 'results-early.png') });
    await capture(page, 2);

    await page.getByRole('button', { name: 'Open capture 2' }).click();
    await page.getByText('Uncertainty', { exact: true }).click();
    const budget = page.getByRole('region', { name: 'Uncertainty budget' });
    await budget.getByText(/at least ±/).waitFor();
    await budget.getByText('calibrate every pad with reference masses').waitFor();
    await page.screenshot({ path: path.join(PICTURES, 'results-budget.png') });
    const download = page.waitForEvent('download');
    await button(page, 'Budget, CSV').click();
    expect((await download).suggestedFilename()).toMatch(/^budget-.*no-2\.csv$/);

    await page.getByText('Recompute with', { exact: true }).click();
    await button(page, 'Recompute').click();
    await page.getByText('would be kg').waitFor();
    await page.screenshot({ path: path.join(PICTURES, 'results-recompute.png') });
    await button(page, '‹ Log').click();

    await page.getByRole('tab', { name: 'Outing' }).click();
    await page.getByLabel('Lowered by').fill('mechanic');
    await button(page, 'Add').click();
    await page.getByText('1 lowerings').waitFor();
    await button(page, 'Add').click();
    await page.getByText('2 lowerings').waitFor();
    await page.getByText(/One standard deviation/).waitFor();
    await page.getByText(/Not told yet/).scrollIntoViewIfNeeded();
    await page.screenshot({ path: path.join(PICTURES, 'results-study.png') });
    expect(complaints).toEqual([]);
  },
  120_000,
);
