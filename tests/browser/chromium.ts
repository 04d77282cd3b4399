import { accessSync, constants } from 'node:fs';
import path from 'node:path';
import { needs, type NeedingTest } from '../support/needs.ts';

/** Names under which Linux distributions install it. */
const PROGRAMS = [
  'chromium',
  'chromium-browser',
  'google-chrome-stable',
  'google-chrome',
  'microsoft-edge',
];

const MAC_PROGRAMS = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
];

const WINDOWS_PROGRAMS = [
  'Google\\Chrome\\Application\\chrome.exe',
  'Chromium\\Application\\chrome.exe',
  'Microsoft\\Edge\\Application\\msedge.exe',
];

const canRun = (file: string): boolean => {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
};

const candidates = (): readonly string[] => {
  if (process.platform === 'darwin') return MAC_PROGRAMS;
  if (process.platform === 'win32')
    return ['PROGRAMFILES', 'PROGRAMFILES(X86)', 'LOCALAPPDATA']
      .map((name) => process.env[name])
      .filter((folder) => folder !== undefined)
      .flatMap((folder) => WINDOWS_PROGRAMS.map((program) => path.join(folder, program)));
  return (process.env['PATH'] ?? '')
    .split(path.delimiter)
    .filter((folder) => folder !== '')
    .flatMap((folder) => PROGRAMS.map((program) => path.join(folder, program)));
};

/**
 * A Chrome or Chromium of this machine, for playwright's `executablePath`; null where there is none.
 * `CHROME_PATH` goes before all others, and is not passed over where it is wrong.
 */
export const chromium: string | null = (() => {
  const named = process.env['CHROME_PATH'];
  if (named) return canRun(named) ? named : null;
  return candidates().find(canRun) ?? null;
})();

/** Tests that need a browser; inside them `chromium` is not null. */
export const inBrowser: NeedingTest = needs({
  has: chromium !== null,
  reason: 'no Chrome or Chromium was found (install one, or name it in CHROME_PATH)',
});
