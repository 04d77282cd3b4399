import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { PLACES, type Place } from '../../renderer/screens/Shell/places.ts';
import { temporaryFolder } from '../support/temporaryFolder.ts';
import { inBrowser } from './chromium.ts';
import { DEADLINE_MS, hostFor, openPage, settled } from './testPage.ts';

/** The built app in a real browser, as a newcomer would use it. */

const openCapture = (page: Page, number: number) =>
  page.getByRole('button', { name: `Open capture ${number}` });

/** Of a car that was captured once, and nothing else. */
const IS_GOOD: ReadonlySet<Place> = new Set(['pads', 'balance']);

/** What each place on the rail says of its answer: seen, and the same heard with the answer. */
const railSays = (page: Page) =>
  page.locator('nav li').evaluateAll((all) =>
    all.map((item) => {
      const button = item.querySelector('button');
      const mark = button?.querySelector('[data-tone]');
      const heard = document.getElementById(button?.getAttribute('aria-describedby') ?? '');
      return {
        seen: mark?.textContent ?? '',
        shape: mark?.querySelector('path')?.getAttribute('d') ?? '',
        heard: heard?.textContent ?? '',
      };
    }),
  );

/** Places whose parts are cut, overlap one another or leave too little for a finger; a rail that scrolls. */
const railTroubles = (page: Page) =>
  page.evaluate(() => {
    const nav = document.querySelector('nav');
    const found: string[] = [];
    if (!nav || nav.scrollHeight > nav.clientHeight) found.push('the rail scrolls');
    const last = nav?.lastElementChild?.getBoundingClientRect();
    if (!last || last.bottom > innerHeight) found.push('the rail is longer than the window');
    for (const place of nav?.querySelectorAll('button') ?? []) {
      const outer = place.getBoundingClientRect();
      if (outer.height < 48) found.push(`${place.textContent} is ${outer.height} px high`);
      const parts = [...place.children].map((part) => part.getBoundingClientRect());
      parts.forEach((part, index) => {
        const next = parts[index + 1];
        if (next && next.top < part.bottom - 0.5) found.push(`${place.textContent} overlaps`);
        if (part.left < outer.left || part.right > outer.right || part.bottom > outer.bottom)
          found.push(`${place.textContent} is cut`);
      });
    }
    return found;
  });

/** Every answer stands on the rail of a car that was captured, by shape and word, at every size. */
const checkRail = async (page: Page): Promise<void> => {
  await expect
    .poll(async () => (await railSays(page)).map(({ seen }) => seen), { timeout: DEADLINE_MS })
    .toEqual(PLACES.map(({ place }) => (IS_GOOD.has(place) ? 'good' : 'not yet')));
  const says = await railSays(page);
  for (const { seen, shape, heard } of says) {
    expect(heard).toMatch(new RegExp(`^${seen}\\. .{10,}`, 'u'));
    expect(shape).toBe(says.find((each) => each.seen === seen)?.shape);
  }
  expect(new Set(says.map(({ shape }) => shape)).size).toBe(2);
  for (const [width, height] of [
    [800, 1280],
    [1024, 768],
    [1920, 1080],
    [1280, 800],
  ] as const) {
    await page.setViewportSize({ width, height });
    expect(await railTroubles(page), `${width}×${height}`).toEqual([]);
  }
};

inBrowser.test(
  'one click to a car on the pads; captured; there after a restart of page and program',
  async () => {
    const dir = temporaryFolder();
    const first = await hostFor(['--data', dir]);
    const { page, complaints } = await openPage(first.url);
    expect(new URL(page.url()).search, 'the token is gone from the address').toBe('');

    await page.getByRole('button', { name: 'Practise on the rig' }).click();
    await settled(page);
    await page.keyboard.press('Space');
    await openCapture(page, 1).waitFor();
    await checkRail(page);
    await openCapture(page, 1).click();
    await page.getByText('raw', { exact: false }).first().waitFor();

    await page.reload();
    await openCapture(page, 1).waitFor();
    expect(complaints).toEqual([]);

    const { port } = new URL(page.url());
    await first.stop();
    await page
      .getByText(/link|broken|not joined/i)
      .first()
      .waitFor();
    await hostFor(['--data', dir, '--port', port]);
    const again = await page.context().newPage();
    // The cookie outlives the program: no token is needed.
    await again.goto(`http://127.0.0.1:${port}/`);
    await openCapture(again, 1).waitFor({ timeout: DEADLINE_MS });
  },
);

inBrowser.test(
  'the bench killed: nothing looks live, it comes back, captures are kept',
  async () => {
    const host = await hostFor(['--data', temporaryFolder(), '--pads', 'rig']);
    const { page } = await openPage(host.url);
    await settled(page);
    await page.getByRole('button', { name: 'Capture', exact: true }).click();
    await openCapture(page, 1).waitFor();
    const benchPid = Number(
      readFileSync(`/proc/${host.process.pid}/task/${host.process.pid}/children`, 'utf8')
        .trim()
        .split(' ')[0],
    );
    process.kill(benchPid, 'SIGKILL');
    await page
      .getByText(/Still for/)
      .first()
      .waitFor({ state: 'detached' });
    await settled(page);
    await openCapture(page, 1).waitFor();
  },
);
