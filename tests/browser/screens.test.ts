import { mkdirSync } from 'node:fs';
import path from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, onTestFinished, test } from 'vitest';
import { openScene, type OpenedScene } from '../renderer/harness/openScene.ts';
import { SCENES, type SceneName } from '../renderer/harness/sceneBook.ts';
import { inBrowser } from './chromium.ts';
import { openBrowser } from './openPage.ts';

/**
 * Every situation that a screen must show, in a real browser under the content policy: photographed
 * into `.tmp/photographs` for looking at, and checked for what can be checked without eyes.
 */

const root = path.resolve(import.meta.dirname, '../..');
const folder = path.join(root, 'dist/renderer');
const photographs = path.join(root, '.tmp/photographs');

const SIZES = [
  { width: 1280, height: 800 },
  { width: 1024, height: 768 },
  { width: 800, height: 1280 },
] as const;

/** Controls smaller than this on a side are too small for gloves; one px for borders. */
const TOUCH = 47;

/** Controls in sight that are too small, by their text. */
const smallControls = (page: Page): Promise<readonly string[]> =>
  page.evaluate((touch) => {
    const controls = [...document.querySelectorAll('button, [role="tab"], input:not([type])')];
    return controls
      .map((control) => ({ control, box: control.getBoundingClientRect() }))
      .filter(({ box }) => box.width > 2 && (box.width < touch || box.height < touch))
      .map(({ control, box }) => `${control.textContent} ${box.width}×${box.height}`);
  }, TOUCH);

/** Words that are cut off or run out of what holds them. */
const overflows = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() => {
    const { scrollWidth, clientWidth } = document.documentElement;
    const found = scrollWidth > clientWidth ? ['the page is wider than the window'] : [];
    for (const block of document.querySelectorAll('article[data-corner]'))
      for (const part of block.querySelectorAll('p, header')) {
        const inner = part.lastElementChild?.getBoundingClientRect();
        if (inner && inner.right > block.getBoundingClientRect().right)
          found.push(`${block.getAttribute('data-corner')}: ${part.textContent}`);
      }
    return found;
  });

const PADS: ReadonlySet<SceneName> = new Set(['pads in trouble', 'press', 'radio off']);
const IN_NIGHT: ReadonlySet<SceneName> = new Set([
  'start',
  'settled',
  'one stale',
  'pads in trouble',
]);

inBrowser.describe('the screens', () => {
  let browser: Browser;
  beforeAll(async () => {
    mkdirSync(photographs, { recursive: true });
    browser = await openBrowser();
  });
  afterAll(() => browser.close());

  const open = async (
    scene: SceneName,
    theme: 'daylight' | 'night' = 'daylight',
  ): Promise<OpenedScene> => {
    const opened = await openScene(browser, { scene, folder, theme, ...SIZES[0] });
    onTestFinished(() => opened.close());
    await opened.page.getByRole('heading').first().waitFor();
    return opened;
  };

  for (const scene of Object.keys(SCENES) as SceneName[])
    for (const theme of ['daylight', 'night'] as const) {
      if (theme === 'night' && !IN_NIGHT.has(scene)) continue;
      test(`${scene}, ${theme}: whole, in its policy, at every size`, async () => {
        const { page, complaints } = await open(scene, theme);
        if (PADS.has(scene)) await page.keyboard.press('2');
        for (const size of SIZES) {
          await page.setViewportSize(size);
          await page.waitForTimeout(400);
          const name = `${scene.replaceAll(' ', '-')}-${theme}-${size.width}x${size.height}.png`;
          await page.screenshot({ path: path.join(photographs, name) });
          expect(await overflows(page), name).toEqual([]);
          expect(await smallControls(page), name).toEqual([]);
        }
        expect(complaints).toEqual([]);
      });
    }

  test('at 1280 and 1024 wide the main job needs no scrolling', async () => {
    const { page } = await open('settled');
    for (const size of SIZES.slice(0, 2)) {
      await page.setViewportSize(size);
      await page.waitForTimeout(300);
      for (const name of ['Capture', 'Zero', 'Raise']) {
        const box = await page.getByRole('button', { name, exact: true }).boundingBox();
        expect(box, name).not.toBeNull();
        expect(box!.y + box!.height, `${name} at ${size.width}`).toBeLessThanOrEqual(size.height);
      }
      const figures = await page
        .locator('article[data-corner] > p > span:first-child')
        .evaluateAll((all) =>
          all.slice(0, 1).map((each) => Number.parseFloat(getComputedStyle(each).fontSize)),
        );
      expect(figures[0], 'corner figures').toBeGreaterThanOrEqual(56);
    }
  });

  test('digits are of one width in both weights', async () => {
    const { page } = await open('settled');
    const widths = await page.evaluate(async () => {
      await document.fonts.ready;
      const canvas = document.createElement('canvas').getContext('2d');
      if (!canvas) return [];
      return ['400', '700'].flatMap((weight) => {
        canvas.font = `${weight} 100px B612`;
        return '0123456789'
          .split('')
          .map((digit) => `${weight} ${canvas.measureText(digit).width}`);
      });
    });
    expect(widths).toHaveLength(20);
    expect(new Set(widths).size).toBe(2);
  });

  test('a host that falls silent greys every corner within 0.6 s', async () => {
    const { page } = await open('silent');
    const stale = page.locator('article[data-corner][data-status="stale"]');
    const live = page.locator('article[data-corner][data-status="live"]');
    await live.first().waitFor();
    expect(await stale.count()).toBe(0);
    // Two seconds of frames, then none: measured in the page, on its own clock.
    const greyAfter = await page.evaluate(
      () =>
        new Promise<number>((resolve) => {
          const figure = document.querySelector('article[data-corner]');
          const line = document.querySelector('.trace-line');
          let changedAt = performance.now();
          let d = line?.getAttribute('d');
          const look = (): void => {
            const next = line?.getAttribute('d');
            if (next !== d) {
              d = next;
              changedAt = performance.now();
            }
            if (figure?.getAttribute('data-status') === 'stale')
              resolve((performance.now() - changedAt) / 1000);
            else requestAnimationFrame(look);
          };
          look();
        }),
    );
    // A frame of each clock to either side of half a second.
    expect(greyAfter).toBeGreaterThan(0.3);
    expect(greyAfter).toBeLessThan(0.65);
    expect(await stale.count()).toBe(4);
  });

  test('keys: places, capture, help; none of them inside a field', async () => {
    const { page, commands } = await open('settled');
    await page.keyboard.press('2');
    await page.getByRole('heading', { name: 'Can the pads be trusted?' }).waitFor();
    await page.keyboard.press('3');
    await page.getByRole('heading', { name: 'Where is the weight?' }).waitFor();
    await page.keyboard.press('Space');
    await expect.poll(() => commands.length).toBe(1);
    expect(commands[0]).toMatchObject({ do: 'capture', phase: 'set-up' });

    await page.keyboard.press('?');
    await page.getByRole('dialog').waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('dialog').waitFor({ state: 'detached' });

    const field = page.getByLabel('Note for the next capture');
    await field.click();
    await page.keyboard.type('after 2 laps');
    expect(await field.inputValue()).toBe('after 2 laps');
    expect(commands).toHaveLength(1);
  });

  test('a length is said back, refused with a reason, and stored in metre', async () => {
    const { page, commands } = await open('settled');
    await page.getByRole('tab', { name: 'Outing' }).click();
    const field = page.getByLabel('Wheelbase');
    await field.fill('2,71 m');
    await page.getByText('2710 mm').waitFor();
    await field.fill('long');
    await page.getByText('A length, for example 2700 mm, 2,7 m or 12 3/16 in.').waitFor();
    await page.getByLabel('Front track').click();
    expect(commands).toEqual([]);
    await field.fill('2,71 m');
    await field.press('Enter');
    await expect.poll(() => commands.length).toBe(1);
    expect(commands[0]).toMatchObject({ do: 'use car', car: { wheelbase: 2.71 } });
    expect(
      await page.getByLabel('Front track').evaluate((el) => el === document.activeElement),
    ).toBe(true);
  });

  test('a capture opened: its change, its raw window, and set aside', async () => {
    const { page, commands } = await open('settled');
    await page.getByRole('button', { name: 'Open capture 3' }).click();
    await page.getByRole('row', { name: /^LF 314\.72 0\.02 \+2\.31/u }).waitFor();
    await page.getByRole('img', { name: 'Raw counts of RR' }).waitFor();
    await page.getByRole('button', { name: 'Set aside' }).click();
    await expect.poll(() => commands.length).toBe(1);
    expect(commands[0]).toMatchObject({ do: 'set aside', id: 'capture-3', aside: true });
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'Open capture 3' }).waitFor();
  });

  test('a spare takes a corner, and pads are asked for by pressing', async () => {
    const { page, commands } = await open('pads in trouble');
    await page.keyboard.press('2');
    const spare = page.getByRole('article', { name: 'Pad RIG-0005' });
    await spare.getByText('RR', { exact: true }).click();
    await expect.poll(() => commands.length).toBe(1);
    expect(commands[0]).toMatchObject({ do: 'assign pad', serial: 'RIG-0005', corner: 'RR' });
    await page.getByRole('button', { name: 'Press the pads in turn' }).click();
    await expect.poll(() => commands.length).toBe(2);
    expect(commands[1]).toMatchObject({ do: 'ask for press', corner: 'LF' });
  });
});
