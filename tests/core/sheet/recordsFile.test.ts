import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import type { CarRecord } from '../../../core/sheet/carRecord.ts';
import { EXAMPLE_SHEET } from '../../../core/sheet/exampleSheet.ts';
import { readRecordsFile, type RecordsRead } from '../../../core/sheet/readRecordsFile.ts';
import { recordCsv } from '../../../core/sheet/recordCsv.ts';
import { NO_RECORDS, writeRecordsFile, type Records } from '../../../core/sheet/recordsFile.ts';
import type { SetUpSheet } from '../../../core/sheet/setUpSheet.ts';
import {
  captureOf,
  freshRecord,
  LEVEL_WEIGHTS,
  read,
  RULE,
  SCALE,
  sourcesOf,
  weighed,
  work,
} from './sampleRecord.ts';

const AT = 1_764_000_000_000;
const CAPTURE = captureOf('capture-1', LEVEL_WEIGHTS);
const RECORD: CarRecord = work(
  read(
    read(weighed(freshRecord(), CAPTURE.id), {
      item: 'height.LF',
      value: 0.095,
      gauge: RULE,
      typed: '95',
      questioned: 'Far, "very" far',
      datum: 'pad',
      setAside: true,
    }),
    { item: 'height.LF', value: 0.065, gauge: RULE, typed: '65,0', datum: 'pad', who: '=crew' },
  ),
  'toe link',
  { corner: 'LR', amount: 0.001 },
);
const ALL: Records = {
  cars: [EXAMPLE_CAR],
  sheets: [EXAMPLE_SHEET],
  records: [RECORD],
  captures: [CAPTURE],
};
const TEXT = writeRecordsFile(ALL, AT);

type Whole = Extract<RecordsRead, { ok: true }>;
const whole = (text: string, here: Records = NO_RECORDS): Whole => {
  const found = readRecordsFile(text, here);
  if (!found.ok) throw new Error(found.why);
  return found;
};
type Path = readonly (string | number)[];
type Tree = Record<string | number, unknown>;
const GONE = Symbol('gone');

/** The file with some things changed by hand, as with a text editor. */
const edited = (...edits: readonly (readonly [Path, unknown])[]): string => {
  const file = JSON.parse(TEXT) as Tree;
  for (const [path, value] of edits) {
    const last = path.at(-1)!;
    const at = path.slice(0, -1).reduce<Tree>((tree, key) => tree[key] as Tree, file);
    if (value === GONE) delete at[last];
    else at[last] = value;
  }
  return JSON.stringify(file);
};
const lineAt = (item: string): number =>
  EXAMPLE_SHEET.lines.findIndex((line) => line.item === item);
const target = (item: string): Path => ['sheets', 0, 'lines', lineAt(item), 'target'];

const targets = (changes: Readonly<Record<string, number>>): SetUpSheet['lines'] =>
  Object.entries(changes).map(([item, target]) => ({ item, target, tolerance: null, unit: null }));

describe('a file of records', () => {
  test('comes back as it was written', () => {
    expect(whole(TEXT)).toEqual({ ok: true, accepted: ALL, refused: [], remarks: [] });
    // In the order of the schemas it stays as it is.
    const ordered = writeRecordsFile(whole(TEXT).accepted, AT);
    expect(writeRecordsFile(whole(ordered).accepted, AT)).toBe(ordered);
    expect(whole(`\ufeff${TEXT}`).refused).toEqual([]);
  });

  test('the same again is refused as a duplicate and changes nothing', () => {
    const again = whole(TEXT, ALL);
    expect(again.accepted).toEqual(NO_RECORDS);
    expect(again.refused).toHaveLength(4);
    expect(new Set(again.refused.map(({ why }) => why))).toEqual(
      new Set(['It is here already, and the same.']),
    );
    const other = whole(edited([['cars', 0, 'name'], 'Heron R3']), ALL);
    expect(other.refused[0]).toEqual({
      list: 'cars',
      place: 1,
      id: EXAMPLE_CAR.id,
      name: 'Heron R3',
      why: 'Another one with the same id is here already; nothing was replaced.',
    });
  });

  test('the order of keys makes no other thing', () => {
    const turned = edited([
      ['cars', 0],
      Object.fromEntries(Object.entries(EXAMPLE_CAR).toReversed()),
    ]);
    expect(whole(turned, ALL).refused[0]?.why).toBe('It is here already, and the same.');
  });

  test('a damaged text is refused whole, wherever it ends, with what to do', () => {
    for (let length = 0; length < TEXT.trimEnd().length; length += 997) {
      const cut = readRecordsFile(TEXT.slice(0, length), NO_RECORDS);
      expect(cut.ok).toBe(false);
      expect(cut.ok ? '' : cut.why).toContain('damaged or not whole');
    }
  });

  test.each([
    ['[]', /not a file of records/u],
    ['{"format":"millpond-records"}', /does not say its version/u],
    ['{"format":"millpond-records","version":2,"units":"SI"}', /newer version \(2\)/u],
    ['{"format":"millpond-records","version":1,"units":"lb"}', /SI units/u],
    ['{"format":"other","version":1}', /not a file of records/u],
  ])('%s', (text, why) => {
    const found = readRecordsFile(text, NO_RECORDS);
    expect(found.ok ? '' : found.why).toMatch(why);
  });

  test('whatever one byte becomes, reading does not fail and invents nothing', () => {
    fc.assert(
      fc.property(
        fc.nat(TEXT.length - 1),
        fc.constantFrom('0', '9', '"', '{', ' ', '-', 'e', 'n'),
        (at, mark) => {
          const found = readRecordsFile(TEXT.slice(0, at) + mark + TEXT.slice(at + 1), NO_RECORDS);
          if (!found.ok) return found.why.length > 0;
          const { accepted, refused } = found;
          const taken =
            accepted.cars.length +
            accepted.sheets.length +
            accepted.records.length +
            accepted.captures.length;
          return taken + refused.length >= 4 && refused.every(({ why }) => why.length > 0);
        },
      ),
      { seed: 23, numRuns: 400 },
    );
  });

  test.each<[string, readonly [Path, unknown], RegExp]>([
    [
      'a corner of a capture missing',
      [['captures', 0, 'corners', 'RF'], GONE],
      /corners\.RF: this corner is missing: all four are needed/u,
    ],
    [
      'a corner of a car missing',
      [['cars', 0, 'wheelRates', 'LR'], GONE],
      /wheelRates\.LR: this corner is missing/u,
    ],
    [
      'a corner weight of a sheet missing',
      [target('weight.RF'), null],
      /Corner weight missing: right front/u,
    ],
    [
      'the diagonal of a sheet not stated',
      [['sheets', 0, 'cross'], GONE],
      /the diagonal of the cross weight is not stated/u,
    ],
    [
      'the diagonal of a capture not stated',
      [['captures', 0, 'balance', 'cross'], GONE],
      /balance\.cross: the diagonal/u,
    ],
    [
      'pounds in one corner of a sheet',
      [target('weight.RF'), 677.9],
      /(?:right front: 677\.9 kg against 312\.4 kg across the axle\.) Is it lb in a field of kg\?/u,
    ],
    ['pounds in a total', [target('total'), 2877], /total of 2877 kg.* Is it lb/u],
    [
      'pounds in a mass of a capture',
      [['captures', 0, 'corners', 'LF', 'mass', 'value'], 688.75],
      /left front: 688.* Is it lb in a field of kg\?/u,
    ],
    [
      'a mass that its force does not give',
      [['captures', 0, 'corners', 'LF', 'mass', 'value'], 317.4],
      /is not its force over gravity, 312\.41 kg\. Correct/u,
    ],
    [
      'millimetres in a wheelbase',
      [['cars', 0, 'wheelbase'], 2700],
      /wheelbase: 2700 cannot be, at most 10\. Is it mm/u,
    ],
    [
      'an impossible toe',
      [target('toe.LR'), 1.5],
      /left rear toe cannot be 1\.5 rad.* Is it ° or ′/u,
    ],
    [
      'an impossible reading',
      [['records', 0, 'entries', 2, 'value'], 65],
      /ride height left front floor cannot be 65 m/u,
    ],
    ['percent in a share', [target('frontShare'), 47.5], /Is it % in a field of fractions of one/u],
    [
      'an item the car does not have',
      [['sheets', 0, 'lines', 7, 'item'], 'height.nose'],
      /“height\.nose” is no item of this car/u,
    ],
    [
      'a field that is not known',
      [['cars', 0, 'colour'], 'red'],
      /“colour” is not part of the format/u,
    ],
    [
      'a number that is none',
      [['cars', 0, 'trackFront'], '1,68'],
      /trackFront: Invalid input: expected number/u,
    ],
    ['a car twice', [['cars', 1], EXAMPLE_CAR], /in the file twice/u],
    ['a list that is none', [['cars'], {}], /“cars” is not a list/u],
    ['a list of another world', [['teams'], []], /“teams” is not part of the format/u],
    ['no object', [['cars', 0], 7], /expected object/u],
  ])('%s is named', (_, edit, why) => {
    expect(whole(edited(edit)).refused[0]?.why).toMatch(why);
  });

  test('pounds in all corners of a sheet are named', () => {
    const found = whole(
      edited(
        ...EXAMPLE_SHEET.lines
          .slice(0, 4)
          .map((line): [Path, unknown] => [target(line.item), (line.target ?? 0) * 2.2046]),
      ),
    );
    expect(found.refused[0]?.why).toMatch(/add up to 2877.* Is it lb in a field of kg\?/u);
  });

  test('a limit that a unit would make endless is refused, and nothing is thrown', () => {
    const limit = { item: 'height.LF', least: 1e308, most: null };
    const found = whole(edited([['cars', 0, 'details', 'ruleLimits'], [limit]]));
    expect(found.refused[0]).toMatchObject({ list: 'cars', place: 1 });
    expect(found.refused[0]?.why).toMatch(/least/u);
  });

  test('one thing refused loses no other that can stand without it', () => {
    const second = { ...EXAMPLE_SHEET, id: 'second', lines: targets({ 'toe.LF': 2 }) };
    const found = whole(writeRecordsFile({ ...ALL, sheets: [second, EXAMPLE_SHEET] }, AT));
    expect(found.accepted).toEqual(ALL);
    expect(found.refused.map(({ list, place, id }) => [list, place, id])).toEqual([
      ['sheets', 1, 'second'],
    ]);
  });

  test('what refers to nothing is refused; what it refers to may be here already', () => {
    const alone = (part: Partial<Records>): string =>
      writeRecordsFile({ ...NO_RECORDS, ...part }, AT);
    const why = (text: string, here?: Records): string =>
      whole(text, here)
        .refused.map((each) => each.why)
        .join();
    expect(why(alone({ sheets: [EXAMPLE_SHEET] }))).toContain('Its car (');
    expect(why(alone({ captures: [CAPTURE] }))).toContain('Its car (');
    expect(why(alone({ records: [RECORD] }))).toContain('Its car (');
    expect(why(alone({ records: [RECORD] }), { ...ALL, sheets: [], records: [] })).toContain(
      'Its sheet (',
    );
    expect(why(alone({ records: [RECORD] }), { ...ALL, captures: [], records: [] })).toContain(
      'Its capture (capture-1)',
    );
    expect(whole(alone({ records: [RECORD] }), { ...ALL, records: [] }).accepted.records).toEqual([
      RECORD,
    ]);
  });

  test('pounds are found by what the car weighed before', () => {
    const four = targets({
      'weight.LF': 688.7,
      'weight.RF': 677.8,
      'weight.LR': 760.1,
      'weight.RR': 750.3,
    });
    const sheet = { ...EXAMPLE_SHEET, lines: four };
    const text = writeRecordsFile({ ...NO_RECORDS, cars: [EXAMPLE_CAR], sheets: [sheet] }, AT);
    expect(whole(text).accepted.sheets).toHaveLength(1);
    const known = whole(text, { ...NO_RECORDS, captures: [CAPTURE] });
    expect(known.refused[0]?.why).toBe(
      'The corner weights add up to 2876.9 kg, against 1305.0 kg. Is it lb in a field of kg?',
    );
  });

  test('pounds typed by hand are found by the target', () => {
    const scales = { ...RULE, id: 'scales', quantity: 'mass' as const };
    const record = read(freshRecord(), { item: 'weight.LF', value: 688.7, gauge: scales });
    const found = whole(writeRecordsFile({ ...ALL, records: [record] }, AT));
    expect(found.refused[0]?.why).toBe(
      'left front corner weight: 688.7 kg, target 312.4 kg. Is it lb in a field of kg?',
    );
  });

  test('a sheet that contradicts itself is taken with a remark', () => {
    const found = whole(edited([target('frontShare'), 0.49]));
    expect(found.accepted.sheets).toHaveLength(1);
    expect(found.remarks).toEqual([
      {
        list: 'sheets',
        id: EXAMPLE_SHEET.id,
        words: expect.stringContaining('Front % is to be 49.0') as string,
      },
    ]);
  });
});

describe('a record as CSV', () => {
  const lines = recordCsv(sourcesOf(RECORD, [CAPTURE]), EXAMPLE_SHEET).split('\r\n');
  const rowsOf = (item: string): string[] => lines.filter((line) => line.split(',')[1] === item);

  test('a row for each value and each reading, in the unit named', () => {
    expect(lines[0]).toBe(
      'row,item,label,value,unit,u,dof,readings,target,tolerance,stale,not in u,typed,gauge,datum,questioned,set aside,who,at',
    );
    expect(rowsOf('weight.LF')).toEqual([
      'value,weight.LF,left front corner weight,312.411,kg,0.02,30,1,312.4,1,no,,,,,,,,',
    ]);
    // √0.13 mm; 0.13²/(0.09²/8) degrees of freedom.
    expect(rowsOf('height.LF')).toEqual([
      'value,height.LF,ride height left front floor,65,mm,0.360555127546,16.6914,1,65,0.5,no,,,,,,,,',
      `reading,height.LF,ride height left front floor,95,mm,,,,,,,,95,steel rule,pad,"Far, ""very"" far",yes,mechanic,${AT + 1}`,
      `reading,height.LF,ride height left front floor,65,mm,,,,,,,,"65,0",steel rule,pad,,no,'=crew,${AT + 2}`,
    ]);
  });

  test('an item of the sheet that was not measured has its target and empty cells', () => {
    expect(rowsOf('toe.LR')).toEqual(['value,toe.LR,left rear toe,,′,,,,6,1.2,,,,,,,,,']);
    expect(rowsOf('damperLength.LF')).toEqual([]);
  });

  test('every row has as many cells, and ends', () => {
    const plain = read(freshRecord(), { item: 'toe.LF', value: 0.001, gauge: SCALE });
    const rows = recordCsv(sourcesOf(plain), null).split('\r\n');
    expect(rows.pop()).toBe('');
    expect(new Set(rows.map((row) => row.split(',').length))).toEqual(new Set([19]));
  });
});
