import type { Locator, Page } from 'playwright-core';
import { inBrowser } from './chromium.ts';
import { doTheJob, type Hands } from './wholeJob.ts';

/** The whole job without a pointer: Tab to everything, Enter and Space, arrows within a choice. */

const MOST_TABS = 400;

const keyboard = (page: Page): Hands => {
  const hasFocus = (target: Locator): Promise<boolean> =>
    target.evaluate((element) => element.contains(document.activeElement));
  const reach = async (target: Locator): Promise<void> => {
    await target.first().waitFor();
    for (let n = 0; n < MOST_TABS; n += 1) {
      if (await hasFocus(target.first())) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`Tab does not reach ${String(target)}`);
  };
  return {
    press: async (target) => {
      await reach(target);
      await page.keyboard.press('Enter');
    },
    type: async (field, text) => {
      await reach(field);
      await page.keyboard.press('Control+A');
      await page.keyboard.type(text);
      await page.keyboard.press('Enter');
    },
    choose: async (group, text) => {
      await reach(group);
      const wanted = group.getByRole('radio', { name: text, exact: true });
      const count = await group.getByRole('radio').count();
      for (let n = 0; n <= count; n += 1) {
        if (await wanted.isChecked()) return;
        await page.keyboard.press('ArrowRight');
      }
      // One that is not chosen yet and has the focus.
      await page.keyboard.press('Space');
      if (!(await wanted.isChecked())) throw new Error(`arrows do not choose ${text}`);
    },
  };
};

inBrowser.test(
  'the whole job by keyboard alone',
  () =>
    doTheJob(
      { name: 'keyboard', isJudged: true, viewport: { width: 1280, height: 800 } },
      keyboard,
    ),
  180_000,
);
