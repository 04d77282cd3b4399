import { mkdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, onTestFinished, test } from 'vitest';
import type { GuestPort } from '../../core/bench/ports.ts';
import type { GuestView } from '../../core/contract/guestView.ts';
import { perCorner } from '../../core/corners.ts';
import { second } from '../../core/units.ts';
import { createRealScheduler } from '../../electron/clock.ts';
import { EXAMPLE_CALL, exampleGuestView } from '../renderer/harness/exampleGuestView.ts';
import { temporaryFolder } from '../support/temporaryFolder.ts';
import { testGuests } from '../support/testGuests.ts';
import { inBrowser } from './chromium.ts';
import { openBrowser, startPageHost, watchComplaints } from './openPage.ts';
import { seriousFindings } from './seriousFindings.ts';

/** Under the car: the page of a phone, from the code to silence. */

const folder = path.resolve(import.meta.dirname, '../../.tmp/pictures');
const PHONE = { width: 360, height: 740 };
const SIZES = [
  PHONE,
  { width: 740, height: 360 },
  { width: 800, height: 1280 },
  { width: 1280, height: 800 },
];

const turned = (
  verdict: NonNullable<NonNullable<GuestView['call']>['progress']>['verdict'],
  share: number,
  said: string,
): GuestView => exampleGuestView({ call: { ...EXAMPLE_CALL, progress: { verdict, share, said } } });

const silentLr = (): GuestView => {
  const view = exampleGuestView({
    call: { ...EXAMPLE_CALL, progress: null },
    stillness: null,
    cross: { diagonal: 'RF+LR', share: null },
  });
  const LR = { ...view.corners.LR, status: 'stale', age: 1.42, stillness: null } as const;
  return { ...view, corners: { ...view.corners, LR } };
};

const inPounds = exampleGuestView({
  unit: 'lb',
  labels: 'FL FR RL RR',
  isPractice: true,
  isCalibrated: false,
  call: { ...EXAMPLE_CALL, corner: 'LR', way: 'down', turns: '11 flats' },
  corners: perCorner((corner) => ({
    ...exampleGuestView().corners[corner],
    mass: 612.3,
    mean: 612.3,
    stillness: 'calming',
  })),
  stillness: 'calming',
});

const SCENES: Readonly<Record<string, GuestView>> = {
  'no call': exampleGuestView(),
  'under way': exampleGuestView({ call: EXAMPLE_CALL }),
  reached: turned('reached', 0.98, 'Stop: reached.'),
  over: turned('over', 1.36, 'Too far: back ¼ turn.'),
  'wrong sense': turned('wrong sense', -0.2, 'Wrong way or wrong corner: stop.'),
  'pad silent': silentLr(),
  pounds: inPounds,
};

/** Letters that run out of their place or are cut off, by what holds them. */
const overflows = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() => {
    const { scrollWidth, clientWidth, scrollHeight, clientHeight } = document.documentElement;
    const found = [
      ...(scrollWidth > clientWidth ? ['the page is wider than the screen'] : []),
      ...(scrollHeight > clientHeight ? ['the page is higher than the screen'] : []),
    ];
    for (const block of document.querySelectorAll('.call, .corner, .cross, header')) {
      const frame = block.getBoundingClientRect();
      if (frame.width === 0) continue;
      for (const part of block.querySelectorAll('p, svg, span:not(.unseen)')) {
        const box = part.getBoundingClientRect();
        // What is empty has no box; letters are higher than their line, but as wide as their range.
        if (!part.textContent && part.tagName !== 'svg') continue;
        const range = document.createRange();
        range.selectNodeContents(part);
        const letters = part.tagName === 'svg' ? box : range.getBoundingClientRect();
        const isInline = getComputedStyle(part).display === 'inline';
        if (
          letters.left < frame.left - 1 ||
          letters.right > frame.right + 1 ||
          (!isInline && (box.top < frame.top - 1 || box.bottom > frame.bottom + 1))
        )
          found.push(`${block.className} ${block.id}: ${part.textContent} ${part.id}`);
      }
    }
    return [...new Set(found)];
  });

inBrowser.describe('the page for guests', () => {
  let browser: Browser;
  beforeAll(async () => {
    mkdirSync(folder, { recursive: true });
    browser = await openBrowser();
  });
  afterAll(() => browser.close());

  /** A port of its own, showing what `now` is set to, twenty times a second. */
  const openGuests = async () => {
    const scheduler = createRealScheduler();
    let ids = 0;
    const guests: GuestPort = testGuests({
      scheduler,
      newId: () => `guest-${(ids += 1)}`,
      wallClock: () => 0,
    });
    expect(await guests.open()).toEqual({ ok: true });
    const shown: { now: GuestView | null } = { now: exampleGuestView() };
    const cancel = scheduler.every('views', second(0.05), () => {
      if (shown.now) guests.show(shown.now);
    });
    onTestFinished(async () => {
      cancel();
      await guests.close();
    });
    const invite = (): { readonly id: string; readonly url: string } => {
      const invited = guests.invite('Phone 1');
      if (!invited.ok) throw new Error(invited.why);
      return { id: invited.id, url: invited.codes[0]!.url };
    };
    return { guests, shown, invite };
  };

  const openPhone = async (url: string) => {
    const context = await browser.newContext({ viewport: PHONE, deviceScaleFactor: 2 });
    onTestFinished(() => context.close());
    const page = await context.newPage();
    const complaints = watchComplaints(page);
    await page.addInitScript(() => {
      // When the newest view came, on the page's own clock.
      const heard = globalThis as unknown as { heardAt: number };
      const Socket = WebSocket;
      const Noting = class extends Socket {
        constructor(address: string | URL) {
          super(address);
          this.addEventListener('message', () => (heard.heardAt = performance.now()));
        }
      };
      globalThis.WebSocket = Noting;
    });
    await page.goto(url);
    return { page, complaints };
  };

  test('every situation, whole at every size, by day and by night', async () => {
    const { shown, invite } = await openGuests();
    const { page, complaints } = await openPhone(invite().url);
    await page.locator('.corner').first().waitFor();
    expect(new URL(page.url()).hash, 'the code is gone from the address').toBe('');
    for (const [name, view] of Object.entries(SCENES)) {
      shown.now = view;
      for (const scheme of ['light', 'dark'] as const) {
        await page.emulateMedia({ colorScheme: scheme });
        for (const size of SIZES) {
          await page.setViewportSize(size);
          await page.waitForTimeout(150);
          const label = `guest-${name.replaceAll(' ', '-')}-${scheme}-${size.width}x${size.height}`;
          await page.screenshot({ path: path.join(folder, `${label}.png`) });
          expect(await overflows(page), label).toEqual([]);
        }
        expect(await seriousFindings(page), `${name} ${scheme}`).toEqual([]);
      }
    }
    expect(complaints).toEqual([]);
  });

  test('figures of a phone are read over two metres', async () => {
    const { shown, invite } = await openGuests();
    shown.now = exampleGuestView({ call: EXAMPLE_CALL });
    const { page } = await openPhone(invite().url);
    await page.locator('.corner').first().waitFor();
    // A phone 360 px wide is about 68 mm wide: 42 px is a figure of 5.8 mm, 10 minutes of arc there.
    for (const each of ['.corner .number', '#cross-number', '#call-turns', '#call-label']) {
      const size = await page
        .locator(each)
        .first()
        .evaluate((element) => Number.parseFloat(getComputedStyle(element).fontSize));
      expect(size, each).toBeGreaterThanOrEqual(42);
    }
  });

  test('nothing comes any more: grey, hatched, with its age, within half a second; and back', async () => {
    const { guests, shown, invite } = await openGuests();
    shown.now = exampleGuestView({ call: EXAMPLE_CALL });
    const { page } = await openPhone(invite().url);
    await page.locator('[data-call="live"]').waitFor();
    const silence = page.evaluate(
      () =>
        new Promise<number>((resolve) => {
          const look = (): void => {
            const old = document.querySelector('.corner[data-status="stale"]');
            const { heardAt } = globalThis as unknown as { heardAt: number };
            if (old) resolve(performance.now() - heardAt);
            else requestAnimationFrame(look);
          };
          look();
        }),
    );
    shown.now = null;
    // The view's own age is 20 ms; the rest is frames of a machine that is doing other things too.
    expect(await silence).toBeLessThan(800);
    await page.getByText(/Nothing heard for/).waitFor();
    expect(await page.locator('.corner[data-status="live"]').count()).toBe(0);
    expect(await page.locator('#said').textContent()).toBe('No live loads: stop turning.');
    await page.screenshot({ path: path.join(folder, 'guest-silent.png') });
    expect(await seriousFindings(page)).toEqual([]);

    shown.now = exampleGuestView();
    await page.locator('.corner[data-status="live"]').first().waitFor();

    await guests.close();
    await page.getByText(/Nothing heard for/).waitFor();
  });

  test('revoked: all figures are gone; a used code and no code are told apart', async () => {
    const { guests, invite } = await openGuests();
    const { id, url } = invite();
    const { page } = await openPhone(url);
    await page.locator('.corner').first().waitFor();

    const other = await openPhone(url);
    await other.page.getByText(/This code was used already/).waitFor();
    const none = await openPhone(new URL('/', url).href);
    await none.page.getByText('This device is not let in. Ask for a code.').waitFor();

    // A reload needs no code, and a second window takes the view over.
    await page.reload();
    await page.locator('.corner[data-status="live"]').first().waitFor();

    guests.revoke(id);
    await page.getByText('This device is not let in any more.').waitFor();
    expect(await page.locator('.number').count()).toBe(0);
    await page.screenshot({ path: path.join(folder, 'guest-revoked.png') });
    expect(await seriousFindings(page)).toEqual([]);
  });

  test('from the settings to a phone; the bench stopped: old there at once', async () => {
    const host = await startPageHost(['--data', temporaryFolder(), '--pads', 'rig', '--seed', '1']);
    onTestFinished(() => host.stop());
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
    onTestFinished(() => page.close());
    const complaints = watchComplaints(page);
    await page.goto(host.url);
    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByText('Under the car', { exact: true }).click();
    await page.getByText(/can change nothing/).waitFor();
    await page.getByRole('button', { name: 'Switch on' }).click();
    await page.getByRole('button', { name: 'Let in' }).click();
    await page.getByRole('img', { name: 'QR code for Phone 1' }).waitFor();
    await page.screenshot({ path: path.join(folder, 'guest-panel-light.png') });
    expect(await seriousFindings(page)).toEqual([]);
    const url = (await page.getByText(/^http:\/\/.*#/).textContent()) ?? '';

    const phone = await openPhone(url);
    await page.getByText('Phone 1 has joined.').waitFor();
    await page.getByText('reading along').waitFor();
    await page.emulateMedia({ colorScheme: 'dark' });
    await page.screenshot({ path: path.join(folder, 'guest-panel-dark.png') });
    await phone.page.getByText('practice').waitFor();
    await phone.page.locator('.corner[data-status="live"]').nth(3).waitFor({ timeout: 30_000 });
    await phone.page.screenshot({ path: path.join(folder, 'guest-practice.png') });

    const benchPid = Number(
      readFileSync(`/proc/${host.process.pid}/task/${host.process.pid}/children`, 'utf8')
        .trim()
        .split(' ')[0],
    );
    process.kill(benchPid, 'SIGSTOP');
    try {
      await phone.page.getByText(/Nothing heard for/).waitFor({ timeout: 5000 });
      expect(await phone.page.locator('.corner[data-status="live"]').count()).toBe(0);
    } finally {
      process.kill(benchPid, 'SIGCONT');
    }
    await phone.page.locator('.corner[data-status="live"]').nth(3).waitFor({ timeout: 30_000 });

    await page.getByRole('button', { name: 'Take back Phone 1' }).click();
    await phone.page.getByText('This device is not let in any more.').waitFor();
    await page.getByRole('button', { name: 'Switch off' }).click();
    await page.getByText('Switched off').waitFor();
    expect([complaints, phone.complaints]).toEqual([[], []]);
  });
});
