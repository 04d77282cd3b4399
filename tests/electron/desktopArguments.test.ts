import { expect, test } from 'vitest';
import { desktopArguments, playFile } from '../../electron/desktopArguments.ts';

test.each([
  [[], [], null],
  [['/d/saturday.millpond'], [], '/d/saturday.millpond'],
  [['C:\\d\\Saturday.MILLPOND'], [], 'C:\\d\\Saturday.MILLPOND'],
  [['--data', '/d', '/d/a.millpond'], ['--data', '/d'], '/d/a.millpond'],
  // A flag's own value, and what is no file of ours, stay.
  [['--pads', 'recording', 'a.millpond'], ['--pads', 'recording', 'a.millpond'], null],
  [['--data', '/d'], ['--data', '/d'], null],
  [['a.millpond', '--page'], ['a.millpond', '--page'], null],
  [['--a.millpond'], ['--a.millpond'], null],
  [['--remote-debugging-port=0', '--page'], ['--page'], null],
  [['--remote-debugging-pipe', '--inspect'], ['--remote-debugging-pipe', '--inspect'], null],
])('%j', (argv, flags, file) => {
  expect(desktopArguments(argv)).toEqual({ flags, file });
});

test('an opened file is played, unless pads or the page are asked for', () => {
  const file = '/d/a.millpond';
  expect(playFile({ flags: [], file })).toEqual(['--pads', 'recording', file]);
  expect(playFile({ flags: ['--data', '/d'], file })).toEqual([
    '--data',
    '/d',
    '--pads',
    'recording',
    file,
  ]);
  expect(playFile({ flags: ['--pads', 'rig'], file })).toEqual(['--pads', 'rig']);
  expect(playFile({ flags: ['--page'], file })).toEqual(['--page']);
  expect(playFile({ flags: ['--page'], file: null })).toEqual(['--page']);
});
