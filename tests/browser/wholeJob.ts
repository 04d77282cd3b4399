import { mkdirSync } from 'node:fs';
import path from 'node:path';
import type { BrowserContextOptions, Locator, Page } from 'playwright-core';
import { expect, onTestFinished } from 'vitest';
import { temporaryFolder } from '../support/temporaryFolder.ts';
import { openBrowser, watchComplaints } from './openPage.ts';
import { seriousFindings } from './seriousFindings.ts';
import { button, DEADLINE_MS, hostFor, PICTURES, settled } from './testPage.ts';

/** Once through the whole job on the practice rig, by one kind of hands only. */
export interface Hands {
  press(target: Locator): Promise<void>;
  type(field: Locator, text: string): Promise<void>;
  /** One of a few that are all in sight. */
  choose(group: Locator, text: string): Promise<void>;
}

const SEED = 4;

const openFor = async (options: BrowserContextOptions): Promise<Page> => {
  const host = await hostFor(['--data', temporaryFolder(), '--seed', String(SEED)]);
  const browser = await openBrowser();
  onTestFinished(() => browser.close());
  const page = await (await browser.newContext(options)).newPage();
  page.setDefaultTimeout(DEADLINE_MS);
  await page.goto(host.url);
  return page;
};

/** The parts of the job that the hands go through, in its order. */
export const doTheJob = async (
  {
    name,
    isJudged,
    ...options
  }: BrowserContextOptions & {
    readonly name: string;
    /** Nothing serious may be found by axe on any screen, in either theme. */
    readonly isJudged: boolean;
  },
  handsOf: (page: Page) => Hands,
): Promise<void> => {
  mkdirSync(PICTURES, { recursive: true });
  const page = await openFor(options);
  const complaints = watchComplaints(page);
  const { press, type, choose } = handsOf(page);
  const region = (label: string): Locator => page.getByRole('region', { name: label, exact: true });
  const group = (label: string): Locator => page.getByRole('radiogroup', { name: label });
  /** In daylight and at night, and each judged where that is asked for. */
  const picture = async (what: string): Promise<void> => {
    for (const colorScheme of ['dark', 'light'] as const) {
      await page.emulateMedia({ colorScheme });
      await page.screenshot({ path: path.join(PICTURES, `${name}-${what}-${colorScheme}.png`) });
      if (isJudged) expect(await seriousFindings(page), `${what} ${colorScheme}`).toEqual([]);
    }
  };
  const place = (text: string): Promise<void> =>
    press(
      page
        .getByRole('navigation', { name: 'Screens' })
        .getByRole('button', { name: new RegExp(`${text}$`, 'u') }),
    );

  await press(button(page, 'Practise on the rig'));
  await settled(page);

  await place('Patch');
  await press(button(page, 'New survey'));
  await press(button(page, 'Read the practice staff'));
  await press(button(page, 'Store the survey'));
  await page.getByText('Survey stored.').waitFor();
  await picture('patch');

  await place('Pads');
  await page.getByRole('article', { name: 'Pad MP-1044' }).waitFor();
  await picture('pads');

  await place('Balance');
  const strip = region('Practice car');
  await press(button(page, 'Raise'));
  await strip.getByText('raised', { exact: true }).waitFor();
  await press(button(page, 'Zero'));
  await press(button(page, 'Lower'));
  await strip.getByText('on the pads', { exact: true }).waitFor();
  await settled(page);
  await press(button(page, 'Capture'));
  await page
    .getByText(/^Captured and stored/u)
    .first()
    .waitFor();
  await picture('balance');

  await place('Adjust');
  const adjuster = page.getByRole('group', { name: 'LF adjuster' });
  await type(adjuster.getByLabel('Steps in a turn'), '4');
  await choose(adjuster.getByRole('radiogroup'), 'yes');
  await press(adjuster.getByRole('button', { name: 'The same at all four' }));
  await page.getByText('Car stored.').waitFor();
  await type(page.getByLabel(/^Cross RF/u), '50 %');
  await press(button(page, 'Read the pads and plan'));
  await press(button(page, 'Take: One corner'));
  await press(button(page, 'Start calls'));
  await region('Call').waitFor();
  await picture('adjust');
  await press(button(page, 'Leave it'));

  await place('Measure');
  await press(button(page, 'Write a sheet first'));
  await press(button(page, 'Take the example sheet'));
  await choose(group('Part of the measuring'), 'Walk');
  await press(button(page, 'Begin'));
  await press(region('Walk').getByRole('button', { name: /left front camber/u }));
  await type(page.getByLabel(/^left front camber, /u), '-3,2°');
  await press(region('Corner weights').getByRole('button', { name: 'Capture now' }));
  await picture('measure');

  await place('Compare');
  await page.getByRole('heading', { name: 'Has it changed?' }).waitFor();
  await picture('compare');
  await place('Scrutineering');
  await type(page.getByLabel('Name of the scrutineers'), 'Meridian Trophy');
  await press(button(page, 'Add'));
  await region('Margin board').waitFor();
  await picture('scrutineering');
  await place('Season');
  await page.getByRole('heading', { name: 'Is it still the same car?' }).waitFor();
  await picture('season');
  await place('Garage');
  await choose(group('What is owned'), 'Scrutineers');
  await page.getByRole('rowheader', { name: /Meridian Trophy/u }).waitFor();
  await picture('garage');
  expect(complaints).toEqual([]);
};
