import type { Page } from 'playwright-core';
import { inBrowser } from './chromium.ts';
import { doTheJob, type Hands } from './wholeJob.ts';

/** The whole job on a tablet held upright: taps, and its keyboard for what is typed. */

const touch = (page: Page): Hands => ({
  press: (target) => target.first().tap(),
  type: async (field, text) => {
    await field.tap();
    await field.selectText();
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
  },
  choose: (group, text) => group.getByText(text, { exact: true }).tap(),
});

inBrowser.test(
  'the whole job by touch at 800 × 1280',
  () =>
    doTheJob(
      { name: 'touch', isJudged: false, viewport: { width: 800, height: 1280 }, hasTouch: true },
      touch,
    ),
  180_000,
);
