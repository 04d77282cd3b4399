/**
 * What the window and the page may do, as pure functions and whole tables: nothing here touches
 * Electron, so every rule can be compared as it is.
 */

/** The desktop window's own scheme and host. */
export const APP_SCHEME = 'millpond';
export const APP_START = `${APP_SCHEME}://app/`;

/**
 * Content Security Policy (W3C, level 3) of the one page. Styles and scripts come from our own
 * files or carry this response's nonce; nothing else loads, frames, submits or connects.
 */
export const contentPolicy = (nonce: string): string =>
  [
    "default-src 'none'",
    `script-src 'self' 'nonce-${nonce}'`,
    `style-src 'self' 'nonce-${nonce}'`,
    "img-src 'self' data:",
    "font-src 'self'",
    "connect-src 'self'",
    "manifest-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join('; ');

/**
 * Policy of the page for guests: its own files and its own socket, named because older browsers take
 * 'self' for HTTP only; no inline scripts, and nothing that makes markup of a text.
 */
export const guestPolicy = (host: string): string =>
  [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self'",
    "font-src 'self'",
    `connect-src 'self' ws://${host}`,
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
    "require-trusted-types-for 'script'",
    "trusted-types 'none'",
  ].join('; ');

/** Policy of everything that is not the page: if it is opened by itself, it can do nothing. */
export const NOTHING_POLICY = "default-src 'none'; frame-ancestors 'none'";

/** Headers of every response, of the page's server and of the window's scheme alike. */
export const FIXED_HEADERS: Readonly<Record<string, string>> = {
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'X-Frame-Options': 'DENY',
  'Permissions-Policy':
    'camera=(), geolocation=(), hid=(), microphone=(), midi=(), payment=(), serial=(), usb=()',
};

/** Options of the desktop window: sandboxed, isolated, without Node. */
export const windowOptions = (preloadPath: string) =>
  ({
    width: 1280,
    height: 800,
    minWidth: 1024,
    minHeight: 700,
    show: false,
    autoHideMenuBar: true,
    title: 'Millpond',
    webPreferences: {
      preload: preloadPath,
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      experimentalFeatures: false,
      webviewTag: false,
      navigateOnDragDrop: false,
      safeDialogs: true,
      spellcheck: false,
      // A hidden window may rest: what is recorded is in the bench's own process.
      backgroundThrottling: true,
    },
  }) as const;

/**
 * Letter by letter rather than by a URL parser: our scheme is "standard" to Chromium and is not to
 * Node, so the two disagree on back-slashes and user names. Only plain paths are ours.
 */
const OURS =
  /^millpond:\/\/app(?:\/[A-Za-z0-9._~/-]*(?:\?[A-Za-z0-9._~=&%-]*)?(?:#[A-Za-z0-9._~=&%/-]*)?)?$/;

/**
 * Whether a link or a navigation leads to our own page. Nothing else is followed, and nothing is
 * handed to the system's browser: there is no link in the app that leads out of it.
 */
export const isOurPage = (url: string): boolean => OURS.test(url);

/**
 * Whether the page may have a permission of the browser's: none of them. Bluetooth is the bench
 * process's, never the page's.
 */
export const isPermitted = (_permission: string): boolean => false;
