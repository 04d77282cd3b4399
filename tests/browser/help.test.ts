import path from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { CAUTION_STEPS } from '../../core/answers/caution.ts';
import { SYMPTOMS } from '../../core/help/symptoms.ts';
import { inBrowser } from './chromium.ts';
import { seriousFindings } from './seriousFindings.ts';
import { button, DEADLINE_MS, openPractice, PICTURES } from './testPage.ts';

const photograph = async (page: Page, name: string): Promise<void> => {
  for (const scheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme: scheme });
    for (const [width, height] of [
      [1280, 800],
      [800, 1280],
    ] as const) {
      await page.setViewportSize({ width, height });
      const label = `help-${name}-${scheme === 'light' ? 'daylight' : 'night'}-${width}`;
      await page.screenshot({ path: path.join(PICTURES, `${label}.png`) });
    }
    expect(await seriousFindings(page), `${name} ${scheme}`).toEqual([]);
  }
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.emulateMedia({ colorScheme: 'light' });
};

inBrowser.test(
  'help: symptoms, keys, cautions; how a balance is worked out; how answers stand on the rail',
  async () => {
    const { page, complaints } = await openPractice(31);
    const place = page.getByRole('navigation').getByRole('button', { name: /Balance/u });
    const stands = async (): Promise<string> => {
      const id = await place.getAttribute('aria-describedby');
      return (await page.locator(`#${id ?? 'none'}`).textContent()) ?? '';
    };
    await expect.poll(stands, { timeout: DEADLINE_MS }).toMatch(/^good\. /u);

    await page.getByText('How this is worked out').first().click();
    await page.getByRole('heading', { name: /^Total: [\d.]+.kg$/u }).waitFor();
    await photograph(page, 'worked');
    await page.getByText('How this is worked out').first().click();

    await button(page, 'Help').click();
    const dialog = page.getByRole('dialog');
    expect(await dialog.locator('tbody tr').count()).toBe(SYMPTOMS.length);
    await photograph(page, 'symptoms');
    await dialog.getByText('Cautions', { exact: true }).click();
    expect(await dialog.locator('[data-step]').count()).toBe(CAUTION_STEPS.length);
    await photograph(page, 'cautions');
    await page.keyboard.press('Escape');
    await dialog.waitFor({ state: 'hidden' });

    // Keys are free only while no control has the focus.
    await page.locator('main').focus();
    await page.keyboard.press('?');
    await dialog.getByText('next control').waitFor();
    await page.keyboard.press('Escape');
    await dialog.waitFor({ state: 'hidden' });

    for (const [name, words] of [
      ['Patch', /^Twist: not known/u],
      ['Pads', /^Normal gravity/u],
      ['Season', /^Change over the records/u],
      ['Garage', /^Copies that are kept/u],
    ] as const) {
      await page
        .getByRole('navigation')
        .getByRole('button', { name: new RegExp(name, 'u') })
        .click();
      await page.getByText('How this is worked out').first().click();
      await page.getByRole('heading', { name: words }).waitFor();
      await page.screenshot({ path: path.join(PICTURES, `help-worked-${name}.png`) });
    }
    expect(complaints).toEqual([]);
  },
  4 * DEADLINE_MS,
);
