import { mkdirSync } from 'node:fs';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { CORNER_NAMES, CORNERS } from '../../core/corners.ts';
import { PLACES } from '../../renderer/screens/Shell/places.ts';
import { temporaryFolder } from '../support/temporaryFolder.ts';
import { inBrowser } from './chromium.ts';
import { seriousFindings } from './seriousFindings.ts';
import { button, DEADLINE_MS, hostFor, openPage, PICTURES, settled } from './testPage.ts';

/** A newcomer is walked once round the whole job, on the real screens, and begins for real. */

const region = (page: Page, name: string) => page.getByRole('region', { name, exact: true });
const part = (page: Page, name: string) =>
  page.getByRole('radiogroup', { name: 'Part of the measuring' }).getByText(name).click();

/** The picture of a step at hand; nothing sticks out, and the strip covers nothing of the screen. */
const picture = async (page: Page, name: string): Promise<void> => {
  await page.screenshot({ path: path.join(PICTURES, `walk-${name}.png`) });
  const strip = await region(page, 'Practice walk').boundingBox();
  const main = await page.locator('main').boundingBox();
  if (!strip || !main) throw new Error(`${name}: no strip or no screen`);
  expect(strip.y + strip.height, name).toBeLessThanOrEqual(main.y + 1);
  expect(strip.height, name).toBeLessThanOrEqual(150);
};

/** The upright tablet and the night, of the same step. */
const otherPictures = async (page: Page, name: string): Promise<void> => {
  await page.emulateMedia({ colorScheme: 'dark' });
  await page.setViewportSize({ width: 800, height: 1280 });
  await page.screenshot({ path: path.join(PICTURES, `walk-${name}-night-800.png`) });
  await page.emulateMedia({ colorScheme: 'light' });
  await page.setViewportSize({ width: 1280, height: 800 });
};

const go = (page: Page, place: string): Promise<void> =>
  page
    .getByRole('navigation', { name: 'Screens' })
    .getByRole('button', { name: new RegExp(`${place}$`, 'u') })
    .click();

/** Every screen with what the walk has left on it: `npm run pictures:readme` puts these beside the README. */
const everyScreen = async (page: Page): Promise<void> => {
  await button(page, 'Leave the walk').click();
  for (const { text } of PLACES) {
    await go(page, text);
    await page.getByRole('heading', { level: 1 }).waitFor();
    await page.getByText('Reading the records.').first().waitFor({ state: 'detached' });
    await page.screenshot({ path: path.join(PICTURES, `screen-${text.toLowerCase()}.png`) });
  }
};

const step = (page: Page, name: string) =>
  region(page, 'Practice walk').getByText(name, { exact: true }).waitFor();
const nextStep = async (page: Page, name: string): Promise<void> => {
  await region(page, 'Practice walk')
    .getByRole('button', { name: /^(Next step|To the end)$/u })
    .waitFor();
  await picture(page, `${name}-done`);
  await button(page, 'Next step').click();
};

const carIs = (page: Page, how: string) =>
  region(page, 'Practice car').getByText(how, { exact: true }).waitFor();

const QUARTERS: Readonly<Record<string, number>> = {
  '': 0,
  '⅛': 0,
  '¼': 1,
  '⅜': 2,
  '½': 2,
  '⅝': 2,
  '¾': 3,
  '⅞': 4,
};

/** Makes the call on the screen with the perch of the practice car, to the nearest quarter. */
const turnAsCalled = async (page: Page): Promise<void> => {
  const text = await region(page, 'Call').innerText();
  const corner = CORNERS.find((each) => text.toLowerCase().includes(CORNER_NAMES[each]));
  const found = /(?<whole>\d*)(?<part>[⅛¼⅜½⅝¾⅞]?) turns? (?<way>up|down)/u.exec(text)?.groups;
  if (!corner || !found) throw new Error(`no call in: ${text}`);
  const quarters = 4 * Number(found['whole'] ?? 0) + (QUARTERS[found['part'] ?? ''] ?? 0);
  const strip = region(page, 'Practice car');
  await strip.getByText(corner, { exact: true }).click();
  const sign = found['way'] === 'up' ? '+' : '−';
  for (let i = 0; i < quarters; i += 1)
    await button(page, `${sign}¼ turn of the ${CORNER_NAMES[corner]} perch`).click();
  await button(page, 'Done').click();
};

/** Does what the huge word says until the plan is back, as somebody would who reads only that. */
const followCalls = async (page: Page): Promise<void> => {
  const call = region(page, 'Call');
  const ways = region(page, 'Ways to turn');
  await call.waitFor();
  for (let i = 0; i < 16; i += 1) {
    await call.or(ways).first().waitFor();
    if (await ways.isVisible()) return;
    const text = await call.innerText();
    if (text.includes('Raise the car')) {
      await button(page, 'Raise').click();
      await carIs(page, 'raised');
      await button(page, 'Done').click();
    } else if (text.includes('Lower the car')) {
      await button(page, 'Lower').click();
      await carIs(page, 'on the pads');
      await button(page, 'Done').click();
    } else if (text.includes('Settle it')) {
      await button(page, 'Lean on').click();
      await button(page, 'Let go').click();
      await button(page, 'Settled, hands off').click();
    } else if (text.includes('Hands off')) await ways.waitFor();
    else await turnAsCalled(page);
  }
};

const READ = ['ride height right front floor', 'right front camber', 'right front toe'];

const measure = async (page: Page): Promise<void> => {
  const walk = region(page, 'Walk');
  for (const label of READ) {
    await walk.getByRole('button', { name: new RegExp(label) }).click();
    const field = page.getByLabel(new RegExp(`^${label}, `));
    await button(page, 'Read the practice gauge').click();
    await expect.poll(() => field.inputValue(), { timeout: 12_000 }).not.toBe('');
    await button(page, 'Keep and go on').click();
    const done = walk.getByRole('button', { name: new RegExp(`done ${label}`) });
    const keep = button(page, 'Keep it');
    await done.or(keep).first().waitFor();
    if (await keep.isVisible()) await keep.click();
  }
  await button(page, 'Capture now').click();
};

inBrowser.test(
  'twelve steps on the real screens, each waiting for what is really done; real records stay empty',
  async () => {
    mkdirSync(PICTURES, { recursive: true });
    const host = await hostFor(['--data', temporaryFolder(), '--seed', '7']);
    const { page, complaints } = await openPage(host.url);
    page.setDefaultTimeout(DEADLINE_MS);
    await button(page, 'Walk me round the job').click();
    await step(page, 'Flat patch');
    // The rig sets itself up first: its own zero is not the newcomer's.
    await settled(page);
    await button(page, 'Show me where').click();
    await picture(page, '01-patch');
    expect(await seriousFindings(page)).toEqual([]);
    await button(page, 'New survey').click();
    await button(page, 'Read the practice staff').click();
    await button(page, 'Store the survey').click();
    await nextStep(page, '01-patch');

    await step(page, 'Zero');
    await picture(page, '02-zero');
    await otherPictures(page, '02-zero');
    await button(page, 'Raise').click();
    await page.getByText('Wait for four flat lines, then press Zero.').waitFor();
    await expect
      .poll(
        async () => {
          await button(page, 'Zero').click();
          return button(page, 'Next step').isVisible();
        },
        { timeout: 15_000, interval: 500 },
      )
      .toBe(true);
    await nextStep(page, '02-zero');

    await step(page, 'Lower');
    await button(page, 'Lower').click();
    await nextStep(page, '03-lower');
    await step(page, 'Settle');
    await page.getByText('Press Capture.', { exact: true }).waitFor();
    await picture(page, '04-settle');
    await button(page, 'Capture').click();
    await nextStep(page, '04-settle');

    await step(page, 'Set-up');
    await picture(page, '05-set-up');
    await button(page, 'Write a sheet first').click();
    await button(page, 'Take the example sheet').click();
    await nextStep(page, '05-set-up');

    // Left and gone on with, at the step where it was.
    await step(page, 'Adjust');
    await button(page, 'Leave the walk').click();
    await region(page, 'Practice walk').waitFor({ state: 'detached' });
    await button(page, 'On with the walk, step 6').click();
    await button(page, 'Read the pads and plan').click();
    await region(page, 'Ways to turn').waitFor();
    await picture(page, '06-adjust');
    await button(page, 'Take: Fewest corners').click();
    await button(page, 'Start calls').click();
    await region(page, 'Call').waitFor();
    await picture(page, '06-call');
    await otherPictures(page, '06-call');
    await followCalls(page);
    if (!(await button(page, 'Next step').isVisible())) {
      await button(page, 'Next call').click();
      await followCalls(page);
    }
    await nextStep(page, '06-adjust');

    await step(page, 'Measure');
    await part(page, 'Walk');
    await button(page, 'Begin').click();
    await picture(page, '07-measure');
    await measure(page);
    await nextStep(page, '07-measure');

    await step(page, 'Release');
    await part(page, 'Release');
    for (const group of await region(page, 'Before the car rolls').getByRole('radiogroup').all())
      await group.getByText('done', { exact: true }).click();
    await picture(page, '08-release');
    await button(page, 'Release the sheet').click();
    await nextStep(page, '08-release');

    await step(page, 'Run');
    await button(page, 'Raise').click();
    await carIs(page, 'raised');
    await page.getByRole('button', { name: /What happens on the run/ }).click();
    await page.getByRole('option', { name: 'right front toe link bent' }).click();
    await picture(page, '09-run');
    await button(page, 'Send it out').click();
    await page.getByText('Back from the run: press Lower.').waitFor();
    await button(page, 'Lower').click();
    await carIs(page, 'on the pads');
    await settled(page);
    await nextStep(page, '09-run');

    await step(page, 'Set-down');
    await button(page, 'Begin another').click();
    await button(page, 'Begin').click();
    await picture(page, '10-set-down');
    await measure(page);
    await nextStep(page, '10-set-down');

    await step(page, 'Compare');
    await page
      .getByText(/^Moved: /)
      .first()
      .waitFor();
    await nextStep(page, '11-compare');

    await step(page, 'Scrutineering');
    await page.getByLabel('Name of the scrutineers').fill('Meridian Trophy');
    await page.getByLabel('Name of the scrutineers').blur();
    await button(page, 'Add').click();
    await page.getByText('Their readings', { exact: true }).first().click();
    await region(page, 'Practice walk')
      .getByText(/they read [\d.]+/u)
      .first()
      .waitFor();
    const asked = await region(page, 'Practice walk').getByRole('status').innerText();
    const theirs = /they read (?<mass>[\d.]+)/u.exec(asked)?.groups?.['mass'] ?? '';
    await picture(page, '12-scrutineering');
    const field = region(page, 'Add a pair').getByLabel('They read', { exact: true });
    await field.fill(theirs);
    await field.blur();
    await button(page, 'Add the pair').click();
    await button(page, 'To the end').waitFor();
    await everyScreen(page);
    await button(page, 'On with the walk, step 12').click();
    await button(page, 'To the end').click();
    await page.getByText('That was the whole job.').waitFor();
    await picture(page, '13-end');
    await otherPictures(page, '13-end');

    // Nothing of it is among the real records.
    await button(page, 'Begin for real').click();
    await button(page, 'Look again').waitFor();
    expect(await region(page, 'Practice walk').count()).toBe(0);
    await go(page, 'Measure');
    await page
      .getByText(/has no sheet/)
      .first()
      .waitFor();
    await go(page, 'Compare');
    await page
      .getByText(/Two records of this car are needed/)
      .first()
      .waitFor();
    await go(page, 'Patch');
    await page.getByText(/Four pads on screws/).waitFor();
    expect(complaints).toEqual([]);
  },
  240_000,
);
