import path from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { inBrowser } from './chromium.ts';
import { seriousFindings } from './seriousFindings.ts';
import { button, openPractice, PICTURES } from './testPage.ts';

/** What is owned is created, copied, set aside and taken back; the settings are a part of it. */

const photograph = async (page: Page, name: string): Promise<void> => {
  for (const scheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme: scheme });
    for (const [width, height] of [
      [1280, 800],
      [800, 1280],
    ] as const) {
      await page.setViewportSize({ width, height });
      const label = `garage-${name}-${scheme === 'light' ? 'daylight' : 'night'}-${width}`;
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

const go = (page: Page, part: string): Promise<void> =>
  page.getByRole('radio', { name: part, exact: true }).press('Space');

inBrowser.test('created, copied, set aside, taken back, and seen where it is used', async () => {
  const { page, complaints } = await openPractice(5);
  await button(page, 'Capture').click();
  await page.getByRole('button', { name: 'Open capture 1' }).waitFor();
  await page.getByRole('button', { name: /Garage/ }).click();
  await page.getByRole('heading', { name: 'What do we own and know?' }).waitFor();
  await page
    .getByText(/^The example car, \d practice pads.* No copies are made/u)
    .first()
    .waitFor();

  const heron = page.getByRole('row', { name: /^Heron R2/u });
  await heron.getByText('1 capture', { exact: true }).waitFor();
  await button(page, 'Add a car').click();
  await page.getByRole('row', { name: /^New car in use nowhere yet/u }).waitFor();
  await heron.getByText('1 capture', { exact: true }).press('Enter');
  await page.getByText(/^\d{4}-\d\d-\d\d, Larkfell: 1 capture$/u).waitFor();
  await photograph(page, 'cars');
  await button(page, 'Set aside Heron R2').press('Enter');
  await page.getByText('Heron R2 is set aside; its records stay.').waitFor();
  await page.getByRole('button', { name: /New car\s*Car/u }).click();
  expect(await page.getByRole('option').allTextContents()).toEqual(['New car']);
  await page.keyboard.press('Escape');
  await button(page, 'Take back Heron R2').press('Enter');
  await button(page, 'Use Heron R2').press('Enter');
  await page.getByRole('row', { name: /^Heron R2 in use/u }).waitFor();

  await go(page, 'Gauges');
  await button(page, 'Add a gauge').press('Enter');
  const name = page.getByRole('group', { name: 'Gauge New gauge' }).getByLabel('Name');
  await name.fill('dial');
  await name.press('Enter');
  await button(page, 'Copy dial').click();
  await page.getByRole('group', { name: 'Gauge dial copy' }).waitFor();
  await page.getByRole('button', { name: 'Set aside', exact: true }).click();
  await button(page, 'Take back dial copy').waitFor();

  await go(page, 'Scrutineers');
  await button(page, 'Add scrutineers').click();
  const authority = page.getByLabel('Name of the scrutineers');
  await authority.fill('Meridian Trophy');
  await authority.press('Enter');
  await button(page, 'Copy Meridian Trophy').waitFor();

  for (const [part, seen] of [
    ['Pads', 'at LF'],
    ['Masses', 'Practice masses'],
    ['Wheels and tyres', 'Set-up wheels and tyres'],
    ['Venues', 'Port Sable'],
    ['Plates', 'None yet: add the first size.'],
    ['People', 'Nobody is named yet.'],
  ] as const) {
    await go(page, part);
    await page.getByText(seen).first().waitFor();
    expect(await seriousFindings(page), part).toEqual([]);
  }

  await page.getByRole('button', { name: /Balance/ }).click();
  await button(page, 'Settings').click();
  await page.getByText('Corners called').waitFor();
  expect(complaints).toEqual([]);
});
