import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { predictAxleLift } from '../../core/balance/predictAxleLift.ts';
import { pdfText } from '../drivers/paper/poppler.ts';
import { temporaryFolder } from '../support/temporaryFolder.ts';
import { inBrowser } from './chromium.ts';
import { seriousFindings } from './seriousFindings.ts';
import { button, DEADLINE_MS, hostFor, openPractice, PICTURES } from './testPage.ts';

/** What does the car measure? From no sheet to a released one, by keyboard, as a crew walks. */

/** Controls smaller than this on a side are too small for gloves; one px for borders. */
const TOUCH = 47;

const region = (page: Page, name: string) => page.getByRole('region', { name, exact: true });
const part = (page: Page, name: string) =>
  page.getByRole('radiogroup', { name: 'Part of the measuring' }).getByText(name).click();
const answer = (page: Page) => page.locator('header p[aria-hidden="true"]');
const told = (page: Page) => expect.poll(() => answer(page).innerText(), { timeout: DEADLINE_MS });

/** The label of the big field that has the keys. */
const current = (page: Page) =>
  expect.poll(
    () =>
      page
        .locator('input[data-reading]:focus')
        .first()
        .getAttribute('aria-labelledby')
        .then(async (id) => (id ? page.locator(`[id="${id.split(' ')[0]}"]`).innerText() : '')),
    { timeout: DEADLINE_MS },
  );

const typeOn = async (page: Page, text: string): Promise<void> => {
  await page.keyboard.type(text);
  await page.keyboard.press('Enter');
};

const smallControls = (page: Page): Promise<readonly string[]> =>
  page.evaluate((touch) => {
    const controls = [...document.querySelectorAll('main button, main input:not([type=file])')];
    return controls
      .map((control) => ({ control, box: control.getBoundingClientRect() }))
      .filter(
        ({ control, box }) =>
          (control as HTMLInputElement).type !== 'radio' &&
          box.width > 2 &&
          (box.width < touch || box.height < touch),
      )
      .map(({ control, box }) => `${control.textContent} ${box.width}×${box.height}`);
  }, TOUCH);

/** In both sizes and themes; clean by axe, large enough for gloves, nothing sticking out. */
const photograph = async (page: Page, name: string): Promise<void> => {
  for (const scheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme: scheme });
    for (const [width, height] of [
      [1280, 800],
      [1024, 768],
      [800, 1280],
    ] as const) {
      await page.setViewportSize({ width, height });
      await page.waitForTimeout(200);
      const label = `measure-${name}-${scheme === 'light' ? 'daylight' : 'night'}-${width}`;
      await page.screenshot({ path: path.join(PICTURES, `${label}.png`) });
      const overhang = await page.evaluate(() => {
        const screen = document.querySelector('main > div') ?? document.documentElement;
        return screen.scrollWidth - screen.clientWidth;
      });
      expect(overhang, `${label} sticks out sideways`).toBeLessThanOrEqual(0);
      expect(await smallControls(page), label).toEqual([]);
    }
    expect(await seriousFindings(page), `${name} ${scheme}`).toEqual([]);
  }
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.emulateMedia({ colorScheme: 'light' });
};

/** Load of the front axle of the example car, rear raised, were its centre of gravity 0.44 m up. */
const loadOf = (lift: number): number => {
  if (lift === 0) return 1305 * 0.475;
  const plan = predictAxleLift({
    wheelbase: 2.7,
    radiusStanding: 0.33,
    radiusLifted: 0.345,
    mass: 1305,
    shareStanding: 0.475,
    cgHeight: 0.44,
    lift,
  });
  if (!plan.ok) throw new Error(plan.why);
  return plan.load;
};

inBrowser.test(
  'a sheet, a walk with slips, corner weights, work that makes stale, release, paper',
  async () => {
    const { page, complaints } = await openPractice(7);
    await page.keyboard.press('5');
    await page.getByRole('heading', { name: 'What does the car measure?' }).waitFor();
    await told(page).toMatch(/^Nothing is measured of Heron R2 and it has no sheet/);
    await photograph(page, 'empty');

    // The sheet, and what disagrees on it.
    await button(page, 'Write a sheet first').click();
    await button(page, 'Take the example sheet').click();
    const sheet = region(page, 'Items of the sheet');
    await sheet.getByText('left front camber').first().waitFor();
    await sheet
      .getByText(/lower the unchanged car several times/)
      .first()
      .waitFor();
    const total = sheet.getByLabel('Target total', { exact: true });
    await total.fill('1320');
    await total.blur();
    await page.getByText(/they cannot all be met/).waitFor();
    await photograph(page, 'sheet');
    await total.fill('1305');
    await total.blur();
    await page.getByText(/they cannot all be met/).waitFor({ state: 'detached' });

    // A record begins; heights by keyboard alone.
    await part(page, 'Walk');
    await button(page, 'Begin').click();
    await told(page).toMatch(/^0 of 17 done\. Next: ride height left front floor\.$/);
    await page.keyboard.press('Enter');
    await current(page).toMatch(/left front floor, mm/);
    await typeOn(page, '65,1');
    await current(page).toMatch(/left front camber/);
    // What no wheel stands at is refused, with the unit that was probably meant.
    await typeOn(page, '-180');
    await page.getByText(/camber cannot be −180\.00°.*Is it ′ in a field of °\?/).waitFor();
    await photograph(page, 'refused');
    await page.keyboard.press('Escape');
    // A sign forgotten: asked beside the field, and put right with one press.
    await typeOn(page, '3,0');
    await page.getByText(/Is it the sign\?/).waitFor();
    await photograph(page, 'questioned');
    await button(page, 'It is −3.00°').click();
    await current(page).toMatch(/left front toe/);
    await typeOn(page, "-3'");
    await current(page).toMatch(/caster|right front floor/);
    await told(page).toMatch(/^3 of 17 done/);

    await page.getByRole('button', { name: /ride height right front floor/ }).click();
    // Inches in a field of millimetres are said back in both.
    await current(page).toMatch(/right front floor, mm/);
    await page.keyboard.type('2 9/16');
    await page.getByText(/2 9\/16 in = 65\.1/).waitFor();
    await page.keyboard.press('Enter');
    // The gauge turned round: its bias goes out. (−3.1 − 2.9)/2 = −3.0, by hand.
    await current(page).toMatch(/right front camber/);
    await page.getByRole('button', { name: /How it is read/ }).click();
    await page.getByRole('option', { name: 'gauge turned round' }).click();
    await page.getByLabel(/right front camber: reading/).fill('-3.1');
    await page.getByLabel(/right front camber: turned round/).fill('2.9');
    await photograph(page, 'turned-round');
    await button(page, 'Keep and go on').click();
    const walk = region(page, 'Walk');
    await walk.getByRole('button', { name: /done right front camber −3\.0/ }).waitFor();

    // Toe by string and scale, the string not square: 2 mm over 2.8 m is −2.46′ on this side.
    await page.getByRole('button', { name: /right front toe/ }).click();
    await page.getByRole('button', { name: /How it is read/ }).click();
    await page.getByRole('option', { name: 'string', exact: true }).click();
    const strings = page.getByRole('group', { name: 'Strings' });
    for (const [label, text] of [
      ['string at the front left', '300'],
      ['string at the front right', '302'],
      ['string at the rear left', '300'],
      ['string at the rear right', '300'],
      ['along the car between them', '2800'],
    ] as const) {
      await strings.getByLabel(label).fill(text);
      await strings.getByLabel(label).blur();
    }
    await strings.getByText(/right 0°\s2\.5′ off the car/).waitFor();
    await page.getByLabel(/right front toe: front of the rim/).fill('180.0');
    await page.getByLabel(/right front toe: rear of the rim/).fill('180.0');
    await photograph(page, 'string');
    await button(page, 'Keep and go on').click();
    // Straight by the string, toed out by the string's own angle: −2.455′.
    await walk.getByRole('button', { name: /right front toe −2\.\d+′/ }).waitFor();

    // Corner weights join from a capture.
    await region(page, 'Corner weights').getByText('Capture now').click();
    await region(page, 'Corner weights')
      .getByText(/capture no\. 1/)
      .waitFor();
    await walk.getByRole('button', { name: /done left front corner weight/ }).waitFor();
    await photograph(page, 'walk');

    // Work marks what it may have moved; the answer says so.
    const work = region(page, 'Work on the car');
    await work.getByText('right front', { exact: true }).click();
    await work.getByLabel('By how much').fill('1/2');
    await button(page, 'Note the work').click();
    await told(page).toMatch(/stale since right front height adjuster/);
    await walk.getByRole('button', { name: /stale left front corner weight/ }).waitFor();
    await photograph(page, 'stale');

    // A gauge that is described says whether the sheet's tolerances can be verified with it.
    await walk.getByRole('button', { name: /ride height left front floor/ }).click();
    await button(page, 'Describe a gauge').click();
    const gauge = page.getByRole('group', { name: /^Gauge/ });
    for (const [label, text] of [
      ['Name', 'height block'],
      ['Smallest step', '0.1'],
      ['Scatter of one reading', '0.1'],
      ['Its own error, standard', '0.05 mm'],
    ] as const) {
      await gauge.getByLabel(label).fill(text);
      await gauge.getByLabel(label).blur();
    }
    await page.getByLabel(/^ride height left front floor, mm/).fill('65.3');
    await page.keyboard.press('Enter');
    await walk.getByRole('button', { name: /done ride height left front floor/ }).waitFor();
    await part(page, 'Sheet');
    // Two single readings: 0.1·√2 mm, and 2.9 of it with few degrees of freedom somewhat more.
    await sheet
      .getByText(/verified down to 0\.4\d*\smm/)
      .first()
      .waitFor();
    await photograph(page, 'verified');

    // Release is refused until the list is answered.
    await part(page, 'Release');
    await button(page, 'Release the sheet').click();
    await page.getByText(/Tick each, or say that it is not on this car/).waitFor();
    await photograph(page, 'release-refused');
    for (const group of await region(page, 'Before the car rolls').getByRole('radiogroup').all())
      await group.getByText('done', { exact: true }).click();
    await button(page, 'Release the sheet').click();
    await region(page, 'Release').getByText('released', { exact: true }).waitFor();
    await photograph(page, 'released');

    const download = page.waitForEvent('download');
    await button(page, 'PDF').click();
    const pdf = readFileSync(await (await download).path());
    writeFileSync(path.join(PICTURES, 'measure-sheet.pdf'), pdf);
    if (spawnSync('pdftotext', ['-v']).status === 0) {
      const pages = pdfText(pdf);
      expect(pages).toHaveLength(1);
      expect(pages[0]).toMatch(/Heron R2, Base set-up no\. 1/);
    }

    // Everything as one file; read in again, all is here already and said so.
    await part(page, 'Sheet');
    const saved = page.waitForEvent('download');
    await button(page, 'Save all as JSON').click();
    const records = await (await saved).path();
    expect(JSON.parse(readFileSync(records, 'utf8'))).toMatchObject({
      format: 'millpond-records',
      sheets: [{ name: 'Base set-up', released: { recordId: expect.any(String) as unknown } }],
      records: [{ phase: 'set-up' }],
      captures: [{ number: 1 }],
    });
    await page.locator('input[type=file]').setInputFiles(records);
    await page.getByText(/records, no\. 1: It is here already, and the same\./).waitFor();
    await page.locator('input[type=file]').setInputFiles({
      name: 'damaged.json',
      mimeType: 'application/json',
      buffer: Buffer.from(readFileSync(records, 'utf8').slice(0, 500)),
    });
    await page.getByText(/The file is damaged or not whole/).waitFor();

    await part(page, 'Axle lift');
    await button(page, 'Begin with the rear axle raised').click();
    await page.getByText(/There are not enough loads yet|The suspension was free/).waitFor();
    for (const group of ['Springs replaced by rigid links', /Wheels free to roll/])
      await page.getByRole('radiogroup', { name: group }).getByText('yes').click();
    const lift = region(page, 'Axle lift');
    const put = async (label: string, text: string): Promise<void> => {
      await lift.getByLabel(label).fill(text);
      await lift.getByLabel(label).blur();
    };
    await put('Car with all wheels down', '1305 kg');
    for (const [index, height] of [0, 0.2, 0.4, 0.6, 0.4, 0.2, 0].entries())
      await put(`Load ${index + 1} on the front axle`, loadOf(height).toFixed(3));
    await lift.getByText(/Centre of gravity 4(39|40)/).waitFor();
    await photograph(page, 'lift');
    await button(page, 'Put it into the car').click();
    await button(page, 'In the car').waitFor();
    await part(page, 'Car');
    await page.getByRole('heading', { name: 'Height adjusters' }).waitFor();
    await region(page, 'Body and springs').getByLabel('Height of the centre').waitFor();
    await photograph(page, 'car');

    // The file read into another program that knows nothing: all is taken, corner weights too.
    const other = await hostFor(['--data', temporaryFolder(), '--pads', 'rig']);
    await page.goto(other.url);
    await page.getByText('practice rig').first().waitFor();
    await page.keyboard.press('5');
    await button(page, 'Write a sheet first').click();
    await page.locator('input[type=file]').setInputFiles(records);
    await page.getByText(/1 sheet, 1 record, 1 capture\./).waitFor();
    await part(page, 'Walk');
    await walk.getByRole('button', { name: /stale left front corner weight/ }).waitFor();
    expect(complaints).toEqual([]);
  },
  240_000,
);
