import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { app, dialog, Menu, screen, shell, type BrowserWindow } from 'electron';
import { aboutText } from './aboutText.ts';
import { menuTemplate, type MenuAction, type MenuItem } from './menu.ts';
import { boundsToOpen, readWindowState, type Rectangle, type WindowState } from './windowState.ts';

/** What stands around the window: menu, about box, where the window was, files opened with Millpond. */

export interface ShellFolders {
  readonly dataDir: string;
  readonly crashes: string;
  /** The list of licences that comes with the program. */
  readonly licences: string;
}

const showAbout = async (folders: ShellFolders): Promise<void> => {
  const words = aboutText({
    version: app.getVersion(),
    platform: process.platform,
    arch: process.arch,
    versions: process.versions,
    dataDir: folders.dataDir,
  });
  const { response } = await dialog.showMessageBox({
    type: 'info',
    title: 'About Millpond',
    ...words,
    buttons: ['Close', 'Licences'],
    defaultId: 0,
    cancelId: 0,
  });
  if (response === 1) await shell.openPath(folders.licences);
};

const openFolder = (folder: string): Promise<string> => {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  return shell.openPath(folder);
};

/** Sets the menu. */
export const setMenu = (folders: ShellFolders, log: (line: string) => void): void => {
  const acts: Readonly<Record<MenuAction, () => Promise<unknown>>> = {
    about: () => showAbout(folders),
    licences: () => shell.openPath(folders.licences),
    'data folder': () => openFolder(folders.dataDir),
    'crash reports': () => openFolder(folders.crashes),
  };
  const clickable = (item: MenuItem) =>
    'action' in item
      ? {
          label: item.label,
          click: () => {
            acts[item.action]().catch((error: unknown) => log(String(error)));
          },
        }
      : { ...item };
  Menu.setApplicationMenu(
    Menu.buildFromTemplate(
      menuTemplate(process.platform).map(({ label, submenu }) => ({
        label,
        submenu: submenu.map(clickable),
      })),
    ),
  );
};

const stateFile = (): string => path.join(app.getPath('userData'), 'window-state.json');

/** Where the window was the last time; null where that is not known, or no longer on a screen. */
export const lastWindow = (): {
  readonly bounds: Rectangle | null;
  readonly maximized: boolean;
} => {
  let state: WindowState | null = null;
  try {
    state = readWindowState(readFileSync(stateFile(), 'utf8'));
  } catch {
    // The first run: there is nothing to be said.
  }
  const screens = screen.getAllDisplays().map(({ workArea }) => workArea);
  return { bounds: boundsToOpen(state, screens), maximized: state?.maximized ?? false };
};

/** Keeps where the window is now. */
export const keepWindow = (window: BrowserWindow, log: (line: string) => void): void => {
  const state: WindowState = { ...window.getNormalBounds(), maximized: window.isMaximized() };
  try {
    writeFileSync(stateFile(), JSON.stringify(state));
  } catch (error) {
    log(`where the window was could not be kept: ${String(error)}`);
  }
};

/** Asks before a recording that was opened while Millpond runs is played: that takes a new start. */
export const offerFile = async (file: string, args: readonly string[]): Promise<void> => {
  const { response } = await dialog.showMessageBox({
    type: 'question',
    message: `Play ${path.basename(file)}?`,
    detail: 'Millpond closes and starts again with this recording. What was captured is kept.',
    buttons: ['Play the recording', 'Cancel'],
    defaultId: 1,
    cancelId: 1,
  });
  if (response !== 0) return;
  app.relaunch({ args: [...args] });
  app.quit();
};
