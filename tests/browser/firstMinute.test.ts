import { mkdirSync } from 'node:fs';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { temporaryFolder } from '../support/temporaryFolder.ts';
import { inBrowser } from './chromium.ts';
import { seriousFindings } from './seriousFindings.ts';
import { button, hostFor, openPage, PICTURES, settled } from './testPage.ts';

/** The first minute of somebody who has read nothing: the choices, the car, and figures that live. */

const SIZES = [
  { width: 800, height: 1280 },
  { width: 1280, height: 800 },
] as const;

/** In daylight and at night, in both sizes: nothing sticks out, and what is to be pressed is in sight. */
const photograph = async (page: Page, name: string, inSight: string): Promise<void> => {
  for (const colorScheme of ['dark', 'light'] as const) {
    await page.emulateMedia({ colorScheme });
    for (const size of SIZES) {
      await page.setViewportSize(size);
      const label = `${name}-${colorScheme}-${size.width}x${size.height}`;
      await page.screenshot({ path: path.join(PICTURES, `first-${label}.png`) });
      const overhang = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(overhang, `${label} sticks out sideways`).toBeLessThanOrEqual(0);
      const box = await button(page, inSight).boundingBox();
      expect((box?.y ?? Infinity) + (box?.height ?? 0), label).toBeLessThanOrEqual(size.height);
    }
    // The live screen is looked at by axe elsewhere.
    if (name !== 'live') expect(await seriousFindings(page), `${name} ${colorScheme}`).toEqual([]);
  }
};

const openNew = async () => {
  mkdirSync(PICTURES, { recursive: true });
  const host = await hostFor(['--data', temporaryFolder(), '--seed', '3']);
  return openPage(host.url);
};

inBrowser.test('one press as it stands: a live figure, then a settled one', async () => {
  const { page, complaints } = await openNew();
  await button(page, 'Practise on the rig').waitFor();
  await photograph(page, 'start', 'Practise on the rig');
  await button(page, 'Practise on the rig').click();
  await page.getByText('moving').first().waitFor();
  await settled(page);
  await photograph(page, 'live', 'Capture');
  expect(complaints).toEqual([]);
});

inBrowser.test('units, corner names and a name of one’s own: four presses and a word', async () => {
  const { page, complaints } = await openNew();
  await page.getByText('pound', { exact: true }).click();
  await page.getByText('FL FR RL RR', { exact: true }).click();
  await page.getByLabel('Car, this example or yours').fill('Number 12');
  await button(page, 'Practise on the rig').click();
  await settled(page);
  await page.getByText('Number 12', { exact: true }).first().waitFor();
  const shown = await page.locator('main').innerText();
  expect(shown).toMatch(/\blb\b/);
  expect(shown).toMatch(/\bFL\b/);
  expect(shown).not.toMatch(/\bkg\b/);
  expect(complaints).toEqual([]);
});

inBrowser.test('no Bluetooth: said with what to do, and practice stands beside it', async () => {
  const { page, complaints } = await openNew();
  await button(page, 'Look for pads').click();
  await button(page, 'Look again').waitFor();
  expect(await page.locator('header p[aria-hidden="true"]').innerText()).toMatch(/Bluetooth/);
  await photograph(page, 'no-bluetooth', 'Practise on the rig');
  await button(page, 'Practise on the rig').click();
  await settled(page);
  expect(complaints).toEqual([]);
});
