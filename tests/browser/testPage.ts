import { mkdirSync } from 'node:fs';
import path from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { onTestFinished } from 'vitest';
import { temporaryFolder } from '../support/temporaryFolder.ts';
import { openBrowser, startPageHost, watchComplaints, type PageHost } from './openPage.ts';

/** A page of the built app for one test: host, browser and data end with it. */

/** Where the tests' pictures go, to be looked at. */
export const PICTURES = path.resolve(import.meta.dirname, '../../.tmp/pictures');
/** How long a page is waited for; with both cores busy it takes many seconds. */
export const DEADLINE_MS = 45_000;

export interface OpenedPage {
  readonly page: Page;
  /** What the page complained of so far; a clean one leaves it empty. */
  readonly complaints: readonly string[];
}

/** A host with these flags that ends with the test. */
export const hostFor = async (flags: readonly string[]): Promise<PageHost> => {
  const host = await startPageHost(flags);
  onTestFinished(() => host.stop());
  return host;
};

/** The page at an address, 1280 × 800, in a browser of its own. */
export const openPage = async (url: string): Promise<OpenedPage> => {
  const browser = await openBrowser();
  onTestFinished(() => browser.close());
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  const page = await context.newPage();
  page.setDefaultTimeout(DEADLINE_MS);
  const complaints = watchComplaints(page);
  await page.goto(url);
  return { page, complaints };
};

/** The button with exactly this name. */
export const button = (page: Page, name: string): Locator =>
  page.getByRole('button', { name, exact: true });

/** Waits until the four loads on Balance are settled. */
export const settled = (page: Page): Promise<void> =>
  page
    .getByText(/Still for/)
    .first()
    .waitFor();

/** A new user's page, practising: the car of this seed stands settled on the pads. */
export const openPractice = async (seed: number): Promise<OpenedPage> => {
  mkdirSync(PICTURES, { recursive: true });
  const host = await hostFor(['--data', temporaryFolder(), '--seed', String(seed)]);
  const opened = await openPage(host.url);
  await button(opened.page, 'Practise on the rig').click();
  await settled(opened.page);
  return opened;
};
