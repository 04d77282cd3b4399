import { expect, test } from 'vitest';
import { aboutText } from '../../electron/aboutText.ts';
import { menuTemplate } from '../../electron/menu.ts';

const labels = (platform: string): readonly string[] =>
  menuTemplate(platform).flatMap(({ label, submenu }) =>
    submenu.map((item) => {
      if ('role' in item) return `${label}: ${item.role}`;
      return 'action' in item ? `${label}: ${item.label}` : `${label}: -`;
    }),
  );

test('the menu, whole', () => {
  const shared = [
    'Edit: undo',
    'Edit: redo',
    'Edit: -',
    'Edit: cut',
    'Edit: copy',
    'Edit: paste',
    'Edit: selectAll',
    'View: resetZoom',
    'View: zoomIn',
    'View: zoomOut',
    'View: -',
    'View: togglefullscreen',
    'View: minimize',
    'Help: Licences',
    'Help: Show crash reports',
  ];
  const elsewhere = [
    'File: Show data folder',
    'File: -',
    'File: quit',
    ...shared,
    'Help: -',
    'Help: About Millpond',
  ];
  expect(labels('linux')).toEqual(elsewhere);
  expect(labels('win32')).toEqual(elsewhere);
  expect(labels('darwin')).toEqual([
    'Millpond: About Millpond',
    'Millpond: -',
    'Millpond: hide',
    'Millpond: hideOthers',
    'Millpond: unhide',
    'Millpond: -',
    'Millpond: quit',
    'File: Show data folder',
    'File: -',
    'File: close',
    ...shared,
  ]);
});

test('the about box names what runs and where everything is', () => {
  expect(
    aboutText({
      version: '1.2.3',
      platform: 'linux',
      arch: 'x64',
      versions: { electron: '45.4.1', node: '24.1.0', v8: '1' },
      dataDir: '/d',
    }),
  ).toEqual({
    message: 'Millpond 1.2.3',
    detail: [
      'The bench beside the set-up pads.',
      'Runs on linux x64: electron 45.4.1, node 24.1.0.',
      'Everything is kept in /d. Nothing is sent anywhere.',
      'MIT licence. The licences of all that comes with it are a list of their own.',
    ].join('\n\n'),
  });
});
