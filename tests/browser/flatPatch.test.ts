import path from 'node:path';
import { expect } from 'vitest';
import { inBrowser } from './chromium.ts';
import { button, openPractice, PICTURES, settled } from './testPage.ts';

/** The patch is surveyed, its screws are told and done, the survey is kept, a slip in it is named. */

inBrowser.test(
  'a survey of the practice patch says which screws to turn and what the ground costs',
  async () => {
    const { page, complaints } = await openPractice(4);
    await page.keyboard.press('1');
    await page.getByText('Is the ground flat?').waitFor();
    await page.screenshot({ path: path.join(PICTURES, 'patch-none.png') });

    await button(page, 'New survey').click();
    await page.getByText(/Stand the laser on the centre line/).waitFor();
    await button(page, 'Read the practice staff').click();
    const screws = page.getByRole('region', { name: 'Screws' });
    await screws.getByText(/to turn|Nothing to turn/).waitFor();
    await page.screenshot({ path: path.join(PICTURES, 'patch-read.png') });

    // A sight typed in inches where millimetres are read: named, and nothing else is lost.
    const sight = page.getByLabel('LF 1, sight 1');
    await sight.fill('47.2 mm');
    await sight.press('Enter');
    await page
      .getByRole('list', { name: 'Noticed in the survey' })
      .getByText(/LF 1 .*47\.2.mm where the others are near/)
      .waitFor();
    await page.screenshot({ path: path.join(PICTURES, 'patch-slip.png') });

    // One point a pad, right rear 5 mm low: its screws go up.
    await page
      .getByRole('radiogroup', { name: 'Points on a pad' })
      .getByText('1', { exact: true })
      .click();
    // Read once, nothing says how well; the answer asks for a second sight.
    await page.getByLabel('Sights of a point').fill('1');
    await page.getByLabel('Sights of a point').press('Enter');
    const read = async (no: number, readings: readonly string[]): Promise<void> => {
      for (const [index, pad] of ['LF', 'RF', 'LR', 'RR'].entries()) {
        const field = page.getByLabel(`${pad} 1, sight ${no}`);
        await field.fill(readings[index] ?? '');
        await field.press('Enter');
      }
    };
    await read(1, ['1200 mm', '1200 mm', '1200 mm', '1205 mm']);
    await page.getByText('Every point was read once').first().waitFor();
    await page.getByLabel('Sights of a point').fill('2');
    await page.getByLabel('Sights of a point').press('Enter');
    await read(1, ['1200 mm', '1200 mm', '1200 mm', '1205 mm']);
    await read(2, ['1200.1 mm', '1200 mm', '1199.9 mm', '1205.1 mm']);
    await screws.getByText('RR').first().waitFor();
    await page.screenshot({ path: path.join(PICTURES, 'patch-low.png') });

    await button(page, 'Store the survey').click();
    await page.getByText('Survey stored.').waitFor();
    const left = async (): Promise<number> =>
      Number.parseInt((await screws.getByText(/ to turn,/).textContent()) ?? '', 10);
    const before = await left();
    await screws.getByRole('checkbox').first().press('Space');
    await expect.poll(left).toBe(before - 1);
    await page.screenshot({ path: path.join(PICTURES, 'patch-stored.png') });
    await page.setViewportSize({ width: 800, height: 1280 });
    await page.screenshot({ path: path.join(PICTURES, 'patch-small.png') });

    // Kept: it is there when the page is opened anew.
    await page.reload();
    await settled(page);
    await page.keyboard.press('1');
    await screws.getByText(/ to turn,|All done/).waitFor();
    await page.emulateMedia({ colorScheme: 'dark' });
    await page.setViewportSize({ width: 1920, height: 1080 });
    await page.screenshot({ path: path.join(PICTURES, 'patch-wide.png') });
    expect(complaints).toEqual([]);
  },
);
