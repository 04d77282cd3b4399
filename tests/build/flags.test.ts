import { describe, expect, test } from 'vitest';
import { readFlags, withoutNpm, writeFlags } from '../../build/scripts/flags.mjs';
import { temporaryFolder } from '../support/temporaryFolder.ts';

const NONE = { help: false, page: false, data: null, pads: null, recording: null, port: null };

describe('readFlags', () => {
  test('nothing given is nothing chosen', () => {
    expect(readFlags([], '/from')).toEqual({ ok: true, flags: NONE });
  });

  test('every flag, with paths from where the user stands', () => {
    const from = temporaryFolder({ 'lower.pads': '' });
    const args = ['--page', '--data', 'kept', '--pads', 'recording', 'lower.pads', '--port=8080'];
    const flags = {
      ...NONE,
      page: true,
      data: `${from}/kept`,
      pads: 'recording',
      recording: `${from}/lower.pads`,
      port: 8080,
    };
    expect(readFlags(args, from)).toEqual({ ok: true, flags });
    // What is handed on reads back the same.
    expect(readFlags(writeFlags(flags), '/elsewhere')).toEqual({ ok: true, flags });
  });

  test.each([
    [['--port'], '--port needs a whole number from 0 to 65535: --port N'],
    [['--port', '70000'], '--port needs a whole number from 0 to 65535: --port N'],
    [['--port', '80a'], '--port needs a whole number from 0 to 65535: --port N'],
    [['--port', '-1'], '--port needs a whole number from 0 to 65535: --port N'],
    [['--data'], '--data needs a folder: --data DIR'],
    [['--data', '--page'], '--data needs a folder: --data DIR'],
    [['--data', 'file'], '--data: FROM/file is not a folder.'],
    [['--pads'], '--pads is one of: rig, bluetooth, recording FILE'],
    [['--pads', 'usb'], '--pads is one of: rig, bluetooth, recording FILE'],
    [['--pads', 'recording'], '--pads recording needs a file: --pads recording FILE'],
    [['--pads', 'recording', 'gone'], '--pads recording: there is no file FROM/gone'],
    [['--page', '--page'], '--page is given twice.'],
    [['--pages'], '--pages is not a flag of npm start; npm start -- --help lists them.'],
    [['stray'], 'stray is not a flag of npm start; npm start -- --help lists them.'],
  ])('%j is refused', (args, error) => {
    const from = temporaryFolder({ file: '' });
    expect(readFlags(args, from)).toEqual({ ok: false, error: error.replace('FROM', from) });
  });
});

// What npm 11.19 leaves in the environment, seen by printing it.
describe('withoutNpm', () => {
  const npm = { npm_lifecycle_event: 'start' };

  test('a --page that npm kept is given back', () => {
    expect(withoutNpm([], { ...npm, npm_config_page: 'true' })).toEqual({
      ok: true,
      args: ['--page'],
    });
  });

  test('a flag with a value that npm took apart is refused', () => {
    expect(withoutNpm(['kept'], { ...npm, npm_config_data: 'true' })).toEqual({
      ok: false,
      error: 'npm kept --data for itself: put -- before the flags, as in npm start -- --data …',
    });
  });

  test('without npm start its settings mean nothing', () => {
    expect(withoutNpm(['--page'], { npm_config_port: '80' })).toEqual({
      ok: true,
      args: ['--page'],
    });
  });
});
