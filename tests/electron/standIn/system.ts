import { answerWith, kept } from './report.ts';

/** Menus, dialogs, screens and the system's own programs: what was asked of them is kept. */

interface Item {
  readonly label?: string;
  readonly click?: () => void;
  readonly submenu?: readonly Item[];
}

let menu: readonly Item[] = [];

export const Menu = {
  buildFromTemplate: (template: readonly Item[]): readonly Item[] => template,
  setApplicationMenu: (template: readonly Item[] | null): void => {
    menu = template ?? [];
    kept.menus.push(menu);
  },
};

const press = (path: readonly string[]): void => {
  let items = menu;
  let found: Item | undefined;
  for (const label of path) {
    found = items.find((item) => item.label === label);
    items = found?.submenu ?? [];
  }
  if (!found?.click) throw new Error(`no such menu item: ${path.join(' > ')}`);
  found.click();
};
answerWith(({ press: path }) => {
  if (path) press(path);
  return {};
});

export const dialog = {
  /** Nobody is there to answer: the first button is pressed. */
  showMessageBox: (...given: unknown[]): Promise<{ response: number }> => {
    kept.dialogs.push(given.at(-1));
    return Promise.resolve({ response: 0 });
  },
  showErrorBox: (title: string, content: string): void =>
    void kept.dialogs.push({ title, content }),
};

export const shell = {
  openPath: (file: string): Promise<string> => {
    kept.openedOutside.push(file);
    return Promise.resolve('');
  },
};

export const screen = {
  getAllDisplays: () => [{ workArea: { x: 0, y: 0, width: 1920, height: 1080 } }],
};

export const crashReporter = { start: (options: unknown) => void kept.crashReporter.push(options) };
