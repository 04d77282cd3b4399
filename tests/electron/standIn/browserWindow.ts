import { EventEmitter } from 'node:events';
import { readFileSync } from 'node:fs';
import type { Frame, Page, Request, Route } from 'playwright-core';
import { app } from './app.ts';
import { goesOn } from './events.ts';
import { ipcMain } from './ipcMain.ts';
import type { MessagePortMain } from './messagePorts.ts';
import { pageSide, type FromPage, type ToPage } from './pageSide.ts';
import { answerRequest, fromChromium, toChromium } from './protocol.ts';
import { answerWith, kept } from './report.ts';

/** A window as a page of Chromium, with the preload script in it before the page's own. */

type OpenHandler = (details: { readonly url: string }) => { readonly action: string };

interface Options {
  readonly width?: number;
  readonly height?: number;
  readonly webPreferences?: { readonly preload?: string };
}

class WebContents extends EventEmitter {
  /** Electron opens what nobody denies. */
  openHandler: OpenHandler = () => ({ action: 'allow' });
  setWindowOpenHandler(handler: OpenHandler): void {
    this.openHandler = handler;
  }
}

const windows = new Set<BrowserWindow>();

/** The frame that asks; null for a window that is not there yet, or that is nobody's frame. */
const frameOf = (request: Request): Frame | null => {
  try {
    return request.serviceWorker() ? null : request.frame();
  } catch {
    return null;
  }
};

export class BrowserWindow extends EventEmitter {
  readonly webContents = new WebContents();
  readonly #ports = new Map<number, MessagePortMain>();
  readonly #options: Options;
  #lastPort = 0;
  #page: Page | null = null;
  /** Set while the program itself loads a page: that is no navigation of the page's. */
  #ownLoad = false;
  /** Messages to the page go one after the other. */
  #line: Promise<unknown> = Promise.resolve();
  #maximized = false;

  static getAllWindows(): readonly BrowserWindow[] {
    return [...windows];
  }

  constructor(options: Options) {
    super();
    this.#options = options;
    kept.windows.push(options);
    windows.add(this);
    app.emit('web-contents-created', {}, this.webContents);
  }

  async loadURL(url: string): Promise<void> {
    const page = await this.#open();
    this.#ownLoad = true;
    await page.goto(toChromium(url));
    this.emit('ready-to-show');
  }
  reload(): void {
    this.#ownLoad = true;
    void this.#page?.reload();
  }

  async #open(): Promise<Page> {
    if (this.#page) return this.#page;
    const { context } = app.chromium;
    const page = context.pages()[0] ?? (await context.newPage());
    this.#page = page;
    const { preload } = this.#options.webPreferences ?? {};
    await page.exposeBinding('standInToMain', ({ frame }, message: FromPage) =>
      this.#heard(frame, message),
    );
    await page.addInitScript(pageSide(preload === undefined ? '' : readFileSync(preload, 'utf8')));
    await context.route('**/*', (route) => this.#routed(route));
    context.on('page', (other) => void this.#popup(other));
    page.on('framenavigated', (frame) => {
      if (frame === page.mainFrame()) this.#dropPorts();
    });
    page.on('crash', () => {
      this.#dropPorts();
      this.webContents.emit('render-process-gone', {}, { reason: 'crashed', exitCode: 5 });
    });
    page.on('close', () => this.#closed());
    return page;
  }

  #closed(): void {
    if (!windows.has(this)) return;
    this.emit('close', {});
    windows.delete(this);
    this.#dropPorts();
    this.emit('closed');
    if (windows.size === 0) app.emit('window-all-closed');
  }

  #dropPorts(): void {
    for (const port of this.#ports.values()) port.close();
    this.#ports.clear();
  }

  async #routed(route: Route): Promise<void> {
    const request = route.request();
    const url = request.url();
    // A page that is no window asks whether it may be one; nothing of it is loaded.
    const frame = frameOf(request);
    if (!frame || frame.page() !== this.#page) {
      this.webContents.openHandler({ url: fromChromium(url) });
      return route.abort('aborted');
    }
    if (request.isNavigationRequest() && !this.#ownLoad) {
      const isMainFrame = frame.parentFrame() === null;
      const details = { url: fromChromium(url), isMainFrame };
      const name = request.redirectedFrom() ? 'will-redirect' : 'will-frame-navigate';
      if (!goesOn(this.webContents, name, details)) return route.abort('aborted');
    }
    if (request.isNavigationRequest()) this.#ownLoad = false;
    const answer = await answerRequest(url, request.method());
    // Nothing here reaches a network.
    if (!answer) return route.abort('internetdisconnected');
    return route.fulfill({
      status: answer.status,
      headers: Object.fromEntries(answer.headers),
      body: Buffer.from(await answer.arrayBuffer()),
    });
  }

  async #popup(other: Page): Promise<void> {
    if (other === this.#page) return;
    const url = other.url();
    // With an address of the network the request has been asked about already.
    if (!/^https?:/.test(url)) this.webContents.openHandler({ url });
    await other.close();
  }

  #heard(frame: Frame, message: FromPage): void {
    if (message.kind === 'ipc') {
      const senderFrame = {
        url: fromChromium(frame.url()),
        parent: frame.parentFrame(),
        postMessage: (channel: string, value: unknown, ports: readonly MessagePortMain[] = []) =>
          this.#post({ kind: 'ipc', channel, value, ports: ports.map((port) => this.#hand(port)) }),
      };
      ipcMain.emit(message.channel, { senderFrame }, ...message.values);
    } else {
      const port = this.#ports.get(message.port);
      if (message.kind === 'port') port?.postMessage(message.data);
      else port?.close();
    }
  }

  /** Gives a port to the page: what comes to this end goes there from now on. */
  #hand(port: MessagePortMain): number {
    const number = (this.#lastPort += 1);
    this.#ports.set(number, port);
    port.on('message', ({ data }: { readonly data: unknown }) =>
      this.#post({ kind: 'port', port: number, data }),
    );
    port.on('close', () => this.#ports.delete(number));
    port.start();
    return number;
  }

  #post(message: ToPage): void {
    this.#line = this.#line.then(() =>
      this.#page
        ?.evaluate(
          (told) =>
            (globalThis as unknown as { standInTake(told: unknown): void }).standInTake(told),
          message,
        )
        // The page has gone meanwhile, and what was for it with it.
        .catch(() => undefined),
    );
  }

  show(): void {
    this.emit('show');
  }
  focus(): void {
    this.emit('focus');
  }
  isMinimized(): boolean {
    return false;
  }
  restore(): void {}
  isDestroyed(): boolean {
    return !windows.has(this);
  }
  isMaximized(): boolean {
    return this.#maximized;
  }
  maximize(): void {
    this.#maximized = true;
  }
  getNormalBounds() {
    const { width = 800, height = 600 } = this.#options;
    return { x: 10, y: 20, width, height };
  }
}

/** Fired by hand: what would happen to a page that embeds another, or asks for a device. */
const FIRED: Readonly<Record<string, readonly unknown[]>> = {
  'will-attach-webview': [{}, {}],
  'select-bluetooth-device': [[{ deviceId: '1', deviceName: 'pad' }], () => undefined],
};

answerWith(({ fire = [] }) => ({
  stopped: Object.fromEntries(
    fire.map((name) => [
      name,
      [...windows].every(
        ({ webContents }) => !goesOn(webContents, name, {}, ...(FIRED[name] ?? [])),
      ),
    ]),
  ),
}));
