import { randomBytes } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { exampleCapture } from './scenes.ts';
import { playScene } from './fakeBench.ts';
import { SCENES, type SceneName } from './sceneBook.ts';

/** Opens the built page on a scene, under the content policy that the hosts serve it with. */

const ORIGIN = 'http://bench.invalid';
const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.woff2': 'font/woff2',
  '.woff': 'font/woff',
};

const policy = (nonce: string): string =>
  `default-src 'none'; script-src 'self' 'nonce-${nonce}'; style-src 'self' 'nonce-${nonce}'; font-src 'self'; img-src 'self' data:; connect-src 'self' ws://bench.invalid`;

const rawWindow = () => {
  const t = Array.from({ length: 160 }, (_, index) => index / 80);
  const raw = t.map(
    (at) => 700_000 + Math.round(300 * Math.sin(at * 40) + 150 * Math.sin(at * 91)),
  );
  return { LF: { t, raw }, RF: { t, raw }, LR: { t, raw }, RR: { t, raw } };
};

export interface SceneOptions {
  readonly scene: SceneName;
  /** The built page. */
  readonly folder: string;
  readonly width: number;
  readonly height: number;
  readonly theme?: 'daylight' | 'night';
}

export interface OpenedScene {
  readonly page: Page;
  /** Errors and warnings of the console, and violations of the policy, as they come. */
  readonly complaints: readonly string[];
  /** Commands that change anything, as the screen gave them; what it reads by itself is left out. */
  readonly commands: readonly unknown[];
  close(): Promise<void>;
}

export const openScene = async (browser: Browser, options: SceneOptions): Promise<OpenedScene> => {
  const context = await browser.newContext({
    viewport: { width: options.width, height: options.height },
  });
  const page = await context.newPage();
  const complaints: string[] = [];
  const commands: unknown[] = [];
  const stops: (() => void)[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(String(error)));

  await page.route(`${ORIGIN}/**`, async (route) => {
    const { pathname } = new URL(route.request().url());
    const name = pathname === '/' ? 'index.html' : pathname.slice(1);
    const body = await readFile(path.join(options.folder, name)).catch(() => null);
    if (!body) {
      await route.fulfill({ status: 404, body: '' });
      return;
    }
    const nonce = randomBytes(12).toString('base64');
    const isPage = name === 'index.html';
    await route.fulfill({
      status: 200,
      contentType: TYPES[path.extname(name)] ?? 'application/octet-stream',
      headers: isPage ? { 'content-security-policy': policy(nonce) } : {},
      body: isPage ? body.toString('utf8').replaceAll('__CSP_NONCE__', nonce) : body,
    });
  });
  await page.routeWebSocket('ws://bench.invalid/bench', (socket) => {
    const made = SCENES[options.scene]();
    const theme = options.theme;
    const scene = theme
      ? { ...made, state: { ...made.state, settings: { ...made.state.settings, theme } } }
      : made;
    stops.push(
      playScene(scene, {
        send: (text) => socket.send(text),
        received: (take) => socket.onMessage((text) => take(String(text))),
        obey: (command) => {
          const { do: what, n, id } = command as { do: string; n: number; id?: string };
          if (!what.startsWith('open ')) commands.push(command);
          if (what !== 'open capture') return null;
          const capture = scene.state.captures.find((each) => each.id === id) ?? exampleCapture(1);
          return {
            kind: 'done',
            n,
            result: { is: 'capture opened', capture, window: rawWindow() },
          };
        },
      }),
    );
  });
  await page.goto(`${ORIGIN}/`);
  return {
    page,
    complaints,
    commands,
    close: async () => {
      for (const stop of stops) stop();
      await context.close();
    },
  };
};
