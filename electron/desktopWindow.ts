import { randomBytes } from 'node:crypto';
import { BrowserWindow, protocol, session, type WebContents } from 'electron';
import type { PageAssets } from './pageAssets.ts';
import { plainAnswer } from './pageAssets.ts';
import { APP_SCHEME, APP_START, isOurPage, isPermitted, windowOptions } from './security.ts';
import type { Rectangle } from './windowState.ts';

/** The desktop window, and what holds for every page that it could ever show. */

/** Must be called before Electron is ready: our scheme has an origin and counts as secure. */
export const registerScheme = (): void =>
  protocol.registerSchemesAsPrivileged([
    { scheme: APP_SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true } },
  ]);

/** Serves the built page under our scheme. */
export const serveScheme = (assets: PageAssets): void =>
  protocol.handle(APP_SCHEME, (request) => {
    const answer =
      request.method === 'GET' && isOurPage(request.url)
        ? assets.answer(new URL(request.url).pathname || '/', randomBytes(18).toString('base64'))
        : plainAnswer(403, 'There is nothing here.');
    return new Response(answer.body, { status: answer.status, headers: { ...answer.headers } });
  });

/** Denies every permission and device to every page. */
export const denyPermissions = (): void => {
  const { defaultSession } = session;
  defaultSession.setPermissionRequestHandler((_page, permission, decide) =>
    decide(isPermitted(permission)),
  );
  defaultSession.setPermissionCheckHandler((_page, permission) => isPermitted(permission));
  defaultSession.setDevicePermissionHandler(({ deviceType }) => isPermitted(deviceType));
  defaultSession.setDisplayMediaRequestHandler((_request, decide) => decide({}));
};

/** Holds any web contents to our own page: no other page, no other window, no embedded one. */
export const confine = (contents: WebContents, log: (line: string) => void): void => {
  const judge = (url: string): boolean => {
    const isOurs = isOurPage(url);
    if (!isOurs) log('a link was not followed');
    return isOurs;
  };
  contents.on('will-frame-navigate', (details) => {
    if (!judge(details.url) || !details.isMainFrame) details.preventDefault();
  });
  contents.on('will-redirect', (details) => {
    if (!judge(details.url)) details.preventDefault();
  });
  contents.on('will-attach-webview', (event) => event.preventDefault());
  contents.on('select-bluetooth-device', (event, _devices, choose) => {
    event.preventDefault();
    choose('');
  });
  contents.setWindowOpenHandler(({ url }) => {
    judge(url);
    return { action: 'deny' };
  });
};

/** Opens the window, where it was the last time if that is known. */
export const openWindow = (
  preloadPath: string,
  { bounds, maximized }: { readonly bounds: Rectangle | null; readonly maximized: boolean },
): BrowserWindow => {
  const window = new BrowserWindow({ ...windowOptions(preloadPath), ...bounds });
  if (maximized) window.maximize();
  window.once('ready-to-show', () => window.show());
  void window.loadURL(APP_START);
  return window;
};
