import { typedValue, type TypedField } from '../../core/format/typed.ts';
import { QUANTITY_KINDS, unitOf, UNITS } from '../../core/format/unitTable.ts';
import { valueText } from '../../core/format/valueShown.ts';
import { desktopArguments, playFile } from '../../electron/desktopArguments.ts';
import { benchFlags, parseFlags, type Surroundings } from '../../electron/flags.ts';
import { changeText } from './changes.ts';
import { must, type Target } from './target.ts';

/** What people type: into a field, and on the command line. */

const FIELDS: readonly TypedField[] = [
  ...QUANTITY_KINDS.flatMap((kind) => UNITS[kind].map(({ unit }) => ({ kind, unit }))),
  { kind: 'angle', unit: '°', diameter: 0.4 },
  { kind: 'angle', unit: 'mm', diameter: 0.4 },
];
const MARKS = [
  '½',
  '¼',
  '⅞',
  '°',
  '′',
  "'",
  '″',
  '"',
  '−',
  '-',
  '+',
  '/',
  ',',
  '.',
  '1e308',
  '0x1',
  '\u00a0',
  'NaN',
];
const UNIT_WORDS = Object.values(UNITS).flatMap((units) => units.flatMap(({ typed }) => typed));

const close = (one: number, other: number, atMost = 0): boolean =>
  Math.abs(one - other) <= Math.max(atMost, 1e-12 * Math.abs(one));

/** The first character picks the field, the others are typed into it. */
const fields: Target<string> = {
  name: 'typed fields',
  kind: 'text',
  files: ['typed', 'typedNumeral', 'valueShown', 'number'].map((name) => `core/format/${name}.ts`),
  seeds: FIELDS.flatMap((_, index) =>
    ['12 3/16', '-1,5', '1°20\'30"', "30'", '½', '+80.5 lb', '3', '0'].map(
      (text) => String.fromCharCode(48 + index) + text,
    ),
  ),
  longest: 400,
  change: changeText([...MARKS, ...UNIT_WORDS, '12 3/16', "1°20'"]),
  run: (input) => {
    const field = FIELDS[input.charCodeAt(0) % FIELDS.length] ?? (FIELDS[0] as TypedField);
    const typed = typedValue(input.slice(1), field);
    if (!typed.ok) {
      must(typed.why !== '' && typed.why.length < 600, 'refused without words, or with too many');
      return false;
    }
    must(Number.isFinite(typed.value), 'no finite value');
    const [said = ''] = typed.understood.split(' = ');
    const again = typedValue(said, field);
    must(again.ok, `“${said}” was said back and is not understood`);
    must(
      again.ok && close(again.value, typed.value),
      `“${said}” was said back and is another value`,
    );
    const unit = unitOf(field.kind, field.unit);
    if (!unit || Math.abs(typed.value / unit.inSi) >= 1e12) return true;
    const shown = typedValue(valueText(field, typed.value), field);
    must(
      shown.ok && close(shown.value, typed.value, 0.51 * 10 ** -unit.decimals * unit.inSi),
      'shown and typed again it is another value',
    );
    return true;
  },
};

const LINUX: Surroundings = {
  platform: 'linux',
  env: {},
  home: '/home/crew',
  cwd: '/home/crew/work',
};
const WINDOWS: Surroundings = {
  platform: 'win32',
  env: {},
  home: 'C:\\Users\\crew',
  cwd: 'C:\\work',
};

/** One argument a line. */
const commandLine: Target<string> = {
  name: 'command line',
  kind: 'text',
  files: ['electron/flags.ts', 'electron/desktopArguments.ts'],
  seeds: [
    '--page\n--port\n17310\n--seed\n7',
    '--data\nfolder\n--pads\nrecording\nday.millpond',
    '--pads=bluetooth\n--data=C:\\crew',
    '--remote-debugging-port=9222\n--pads\nrig\nday.millpond',
    '--help',
    'day.millpond',
  ],
  longest: 400,
  change: changeText([
    '\n',
    '--',
    '=',
    '--page',
    '--data',
    '--pads',
    '--port',
    '--seed',
    'recording',
    '4294967295',
    '65535',
    '..',
    '.millpond',
    '--pads=',
  ]),
  run: (input) => {
    const argv = input.split('\n');
    let accepted = false;
    for (const around of [LINUX, WINDOWS]) {
      const played = playFile(desktopArguments(argv));
      must(played.length <= argv.length + 2, 'arguments were made up');
      for (const given of [argv, played]) {
        const parsed = parseFlags(given, around);
        if (parsed.kind === 'wrong') must(parsed.why !== '', 'refused without a word');
        if (parsed.kind !== 'flags') continue;
        accepted = true;
        const { flags } = parsed;
        const isWhole = (value: number | null, most: number): boolean =>
          value === null || (Number.isInteger(value) && value >= 0 && value <= most);
        must(
          isWhole(flags.port, 65_535) && isWhole(flags.seed, 2 ** 32 - 1),
          'a number out of range',
        );
        must(
          (flags.recordingFile !== null) === (flags.pads === 'recording'),
          'a file without its pads',
        );
        const again = parseFlags(benchFlags(flags), around);
        must(
          again.kind === 'flags' &&
            JSON.stringify(again.flags) === JSON.stringify({ ...flags, page: false, port: null }),
          'the bench would read other flags',
        );
      }
    }
    return accepted;
  },
};

export const TYPED_TARGETS: readonly Target<string>[] = [fields, commandLine];
