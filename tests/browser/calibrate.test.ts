import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { inBrowser } from './chromium.ts';
import { button, DEADLINE_MS, openPractice, PICTURES } from './testPage.ts';

/** A pad calibrated, checked and looked at in the built app, as a crew would. */

const PAD = 'MP-1047';

const part = (page: Page, name: string) => page.getByText(name, { exact: true }).click();
const photograph = async (page: Page, name: string): Promise<void> => {
  for (const [width, height] of [
    [1280, 800],
    [800, 1280],
  ] as const) {
    await page.setViewportSize({ width, height });
    await page.waitForTimeout(300);
    await page.screenshot({ path: path.join(PICTURES, `pads-${name}-${width}.png`) });
    const overhang = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    expect(overhang, `${name} sticks out sideways at ${width}`).toBeLessThanOrEqual(0);
  }
  await page.setViewportSize({ width: 1280, height: 800 });
};

/** Puts so many 20 kg masses on the practice pad and waits until they lie still. */
const put = async (page: Page, count: number, before: number): Promise<void> => {
  const letters = ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H'];
  const changed = letters.slice(Math.min(count, before), Math.max(count, before));
  for (const letter of changed) await button(page, `20 kg ${letter}`).click();
  await button(page, 'Put them on').click();
  const one = page.getByLabel(`Pad ${PAD}, live`);
  await expect
    .poll(
      async () => {
        const read = Number.parseFloat((await one.locator('p').innerText()).split('\n')[0] ?? '');
        return Math.abs(read - 20 * count) < 5;
      },
      { timeout: DEADLINE_MS },
    )
    .toBe(true);
  await one.getByText('settled').waitFor();
};

inBrowser.test(
  'a pad is calibrated with masses, gets its certificate, is checked, and shows its history',
  async () => {
    const { page, complaints } = await openPractice(3);
    await page.keyboard.press('2');
    await part(page, 'Calibrate');
    await page.getByRole('button', { name: /^MP-1041, LF Pad$/ }).click();
    await page.getByRole('option', { name: `${PAD}, spare` }).click();
    await part(page, 'a class');
    await photograph(page, 'begin');
    await button(page, 'Begin').click();
    await button(page, 'Raise the car first').click();
    await button(page, 'Put them on').waitFor();

    const plan = [0, 2, 5, 8, 5, 2, 0];
    for (const [index, count] of plan.entries()) {
      if (index > 0) await put(page, count, plan[index - 1] ?? 0);
      await button(page, count === 0 ? 'Take zero' : 'Take point').click();
      await page.getByText(`Point ${index + 1} taken.`).waitFor();
      if (index === 4) await photograph(page, 'work');
    }
    await page.getByText('Errors within class III limits').waitFor();
    await button(page, 'Finish and use').click();
    await page.getByText('in use', { exact: true }).waitFor();
    await photograph(page, 'calibrated');

    for (const [name, begins] of [
      ['Certificate, PDF', '%PDF-'],
      ['Points, CSV', null],
      ['All else, CSV', null],
    ] as const) {
      const download = page.waitForEvent('download');
      await button(page, name).click();
      const file = await (await download).path();
      const bytes = readFileSync(file);
      expect(bytes.length, name).toBeGreaterThan(500);
      if (begins) expect(bytes.subarray(0, 5).toString('latin1')).toBe(begins);
    }

    await part(page, 'Check');
    await page.getByRole('button', { name: /^MP-1041, LF Pad$/ }).click();
    await page.getByRole('option', { name: `${PAD}, spare` }).click();
    const one = page.getByLabel(`Pad ${PAD}, live`);
    await one.getByText('settled').waitFor();
    await button(page, 'Zero').click();
    await page.getByText('Zero taken.').waitFor();
    await put(page, 5, 0);
    await page.getByRole('button', { name: 'Check', exact: true }).click();
    await page.getByText(/Last check: same/).waitFor();
    await photograph(page, 'check');

    await part(page, 'History');
    await page.getByRole('button', { name: /^MP-1041, LF Pad$/ }).click();
    await page.getByRole('option', { name: `${PAD}, spare` }).click();
    await page.getByText(/Span: (no drift|drifted)/).waitFor();
    await photograph(page, 'history');

    await part(page, 'Other pads');
    await page.getByLabel('Description', { exact: true }).fill('{ "name": ');
    await page.getByText(/correct the JSON/).waitFor();
    await photograph(page, 'descriptions');
    expect(complaints).toEqual([]);
  },
  120_000,
);
