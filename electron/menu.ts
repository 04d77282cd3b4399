/** The window's menu, as data: what each item does is said by a name, which the shell carries out. */

export type MenuAction = 'about' | 'licences' | 'data folder' | 'crash reports';

/** An item: one of Electron's own by its role, one of ours by its action, or a line between. */
export type MenuItem =
  | { readonly role: MenuRole }
  | { readonly type: 'separator' }
  | { readonly label: string; readonly action: MenuAction };

/** No reload and no developer tools: a crew presses keys in a hurry. */
export type MenuRole =
  | 'undo'
  | 'redo'
  | 'cut'
  | 'copy'
  | 'paste'
  | 'selectAll'
  | 'resetZoom'
  | 'zoomIn'
  | 'zoomOut'
  | 'togglefullscreen'
  | 'minimize'
  | 'close'
  | 'hide'
  | 'hideOthers'
  | 'unhide'
  | 'quit';

export interface MenuPart {
  readonly label: string;
  readonly submenu: readonly MenuItem[];
}

const LINE: MenuItem = { type: 'separator' };
const ABOUT: MenuItem = { label: 'About Millpond', action: 'about' };

const roles = (...names: readonly MenuRole[]): readonly MenuItem[] =>
  names.map((role) => ({ role }));

/** The menu of a platform: on macOS a program's own part comes first and holds its end. */
export const menuTemplate = (platform: string): readonly MenuPart[] => {
  const isMac = platform === 'darwin';
  const own: MenuPart = {
    label: 'Millpond',
    submenu: [ABOUT, LINE, ...roles('hide', 'hideOthers', 'unhide'), LINE, ...roles('quit')],
  };
  return [
    ...(isMac ? [own] : []),
    {
      label: 'File',
      submenu: [
        { label: 'Show data folder', action: 'data folder' },
        LINE,
        ...roles(isMac ? 'close' : 'quit'),
      ],
    },
    {
      label: 'Edit',
      submenu: [...roles('undo', 'redo'), LINE, ...roles('cut', 'copy', 'paste', 'selectAll')],
    },
    {
      label: 'View',
      submenu: [
        ...roles('resetZoom', 'zoomIn', 'zoomOut'),
        LINE,
        ...roles('togglefullscreen', 'minimize'),
      ],
    },
    {
      label: 'Help',
      submenu: [
        { label: 'Licences', action: 'licences' },
        { label: 'Show crash reports', action: 'crash reports' },
        ...(isMac ? [] : [LINE, ABOUT]),
      ],
    },
  ];
};
