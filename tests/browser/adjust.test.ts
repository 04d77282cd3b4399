import path from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { CORNERS, CORNER_NAMES } from '../../core/corners.ts';
import { inBrowser } from './chromium.ts';
import { button, openPractice, PICTURES, settled } from './testPage.ts';

/** From a settled car to a call, made on the practice rig, and to the next plan. */

const PARTS: Readonly<Record<string, number>> = { '': 0, '¼': 1, '½': 2, '¾': 3 };

const SIZES = [
  { width: 1024, height: 768 },
  { width: 800, height: 1280 },
  { width: 1280, height: 800 },
] as const;
/** In daylight and at night, in three sizes; nothing sticks out sideways. */
const photograph = async (page: Page, name: string): Promise<void> => {
  for (const colorScheme of ['dark', 'light'] as const) {
    await page.emulateMedia({ colorScheme });
    for (const size of SIZES) {
      await page.setViewportSize(size);
      const label = `${name}-${colorScheme}-${size.width}x${size.height}`;
      await page.screenshot({ path: path.join(PICTURES, `adjust-${label}.png`) });
      const overhang = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(overhang, `${label} sticks out sideways`).toBeLessThanOrEqual(0);
    }
  }
};

/** By the rail: number keys are for fields and controls while one of them has the focus. */
const go = (page: Page, place: string) =>
  page
    .getByRole('navigation', { name: 'Screens' })
    .getByRole('button', { name: new RegExp(`${place}$`, 'u') })
    .click();

/** The call as it stands on the screen: corner and quarter turns, up positive. */
const callShown = async (page: Page) => {
  const text = await page.getByRole('region', { name: 'Call' }).innerText();
  const corner = CORNERS.find((each) => text.toLowerCase().includes(CORNER_NAMES[each]));
  const found = /(?<whole>\d*)(?<part>[¼½¾]?) turns? (?<way>up|down)/u.exec(text)?.groups;
  if (!corner || !found) throw new Error(`no call in: ${text}`);
  const quarters = 4 * Number(found['whole'] ?? 0) + (PARTS[found['part'] ?? ''] ?? 0);
  return { corner, quarters: found['way'] === 'up' ? quarters : -quarters };
};

const turn = async (page: Page, name: string, quarters: number): Promise<void> => {
  const sign = quarters > 0 ? '+' : '−';
  for (let i = 0; i < Math.abs(quarters); i += 1)
    await button(page, `${sign}¼ turn of the ${name} perch`).click();
};

inBrowser.test(
  'a plan becomes a call; its progress follows the rig’s perch; what was read makes the next plan',
  async () => {
    const { page, complaints } = await openPractice(4);
    await page.keyboard.press('4');
    await page.getByRole('heading', { name: 'What do we turn?' }).waitFor();

    // A thread without pitch is refused where it is typed.
    const first = page.getByRole('group', { name: 'LF adjuster' });
    const pitch = first.getByLabel('Thread, a turn');
    await pitch.fill('0');
    await page.getByText('Above 0, at most 20 mm.').waitFor();
    await pitch.press('Escape');
    await first.getByLabel('Steps in a turn').fill('4');
    await first.getByLabel('Steps in a turn').press('Enter');
    await first.getByText('yes', { exact: true }).click();
    await first.getByLabel('Steps left, up / down').fill('40');
    await page.getByText('Steps left up and down, for example 12 / 8.').waitFor();
    await first.getByLabel('Steps left, up / down').press('Escape');
    await first.getByRole('button', { name: 'The same at all four' }).click();
    await page.getByText('Car stored.').waitFor();
    await page.getByLabel(/^Cross RF/).fill('50 %');
    await page.getByLabel(/^Cross RF/).press('Enter');
    await photograph(page, 'begin');

    await button(page, 'Read the pads and plan').click();
    const ways = page.getByRole('region', { name: 'Ways to turn' });
    await ways.waitFor();
    expect(await ways.getByRole('article').count()).toBe(3);
    await photograph(page, 'plan');
    await button(page, 'Take: One corner').click();
    await ways.getByText('Taken').waitFor();

    await button(page, 'Start calls').click();
    const { corner, quarters } = await callShown(page);
    expect(Math.abs(quarters)).toBeGreaterThanOrEqual(2);
    const name = CORNER_NAMES[corner];
    await page.getByText(corner, { exact: true }).last().click();

    await button(page, 'Sound on').click();
    await turn(page, name, quarters > 0 ? -2 : 2);
    await page
      .getByText(/^Wrong sense\./)
      .first()
      .waitFor();
    await photograph(page, 'wrong');
    await button(page, 'Sound off').click();
    await turn(page, name, quarters > 0 ? 3 : -3);
    await page.getByText('under way', { exact: true }).waitFor();
    await photograph(page, 'under-way');

    // A pad is lost in the middle: the call stays, says so, and goes on when it is back.
    const place = async (where: 'RR' | 'spare'): Promise<void> => {
      await go(page, 'Pads');
      const pad = page.getByRole('article', { name: 'Pad MP-1044' });
      await pad.getByText(where, { exact: true }).click();
      await pad.locator(`input[value="${where}"]:checked`).waitFor({ state: 'attached' });
      await go(page, 'Adjust');
    };
    await place('spare');
    await page
      .getByText(/The pad at the right rear is not live\. The call stays/)
      .first()
      .waitFor();
    expect((await callShown(page)).corner).toBe(corner);
    await photograph(page, 'pad-lost');
    await place('RR');
    await page.getByText('under way', { exact: true }).waitFor();
    await page.getByText(corner, { exact: true }).last().click();

    await turn(page, name, quarters > 0 ? quarters - 1 : quarters + 1);
    await page.getByText('reached', { exact: true }).waitFor();
    await photograph(page, 'reached');

    await button(page, 'Done').click();
    await page.getByText('Settle it').waitFor();
    await button(page, 'Lean on').click();
    await button(page, 'Let go').click();
    await photograph(page, 'settle');
    await button(page, 'Settled, hands off').click();
    await ways.waitFor();

    // The one call was enough for the weight, or nearly: the plan begins from what the pads say.
    const cross = await page.getByLabel('Loads now').innerText();
    const now = Number(/(\d+\.\d+)\s*%/u.exec(cross)?.[1]);
    expect(Math.abs(now - 50)).toBeLessThan(0.5);
    await photograph(page, 'next-plan');
    await page.getByText('Response', { exact: true }).click();
    await page.getByRole('region', { name: 'Calls made' }).getByText(name).waitFor();
    await photograph(page, 'response');
    await page.getByText('What if', { exact: true }).click();
    const would = page.getByRole('table', { name: 'As it would be' });
    const before = await would.innerText();
    await page.getByRole('slider', { name: 'Driver' }).press('ArrowRight');
    await expect.poll(() => would.innerText()).not.toBe(before);
    await photograph(page, 'what-if');
    await page.getByText('Bars', { exact: true }).click();
    await button(page, 'Weigh, bar off').click();
    await button(page, 'Weigh, bar on').click();
    // Two weighings of one car: one pair in twenty lies outside the noise by chance.
    await page
      .getByRole('region', { name: 'Bar preload' })
      .getByText(/^(none seen|preload)$/)
      .waitFor();
    await photograph(page, 'bars');

    // What was kept is there again after the page is loaded anew.
    await page.reload();
    await settled(page);
    await page.keyboard.press('4');
    await button(page, 'Undo the last call').click();
    expect(await callShown(page)).toEqual({ corner, quarters: -quarters });
    expect(complaints).toEqual([]);
  },
  180_000,
);
