import { describe, expect, test } from 'vitest';
import { BACK_TO_RUNNING } from '../../../core/sheet/backToRunning.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { contradictionsOf } from '../../../core/sheet/contradictions.ts';
import { EXAMPLE_SHEET } from '../../../core/sheet/exampleSheet.ts';
import {
  notAnswered,
  releaseSheet,
  type RunningAnswers,
} from '../../../core/sheet/releaseSheet.ts';
import {
  copySheet,
  emptySheet,
  lineOf,
  sheetSchema,
  type SetUpSheet,
} from '../../../core/sheet/setUpSheet.ts';
import { sheetDiff } from '../../../core/sheet/sheetDiff.ts';
import {
  captureOf,
  freshRecord,
  LEVEL_WEIGHTS,
  read,
  RULE,
  sourcesOf,
  weighed,
  work,
} from './sampleRecord.ts';

const DEG = Math.PI / 180;

const withTarget = (sheet: SetUpSheet, item: string, target: number | null): SetUpSheet => ({
  ...sheet,
  lines: lineOf(sheet, item)
    ? sheet.lines.map((line) => (line.item === item ? { ...line, target } : line))
    : [...sheet.lines, { item, target, tolerance: null, unit: null }],
});

const only = (
  targets: Readonly<Record<string, number>>,
  tolerance: number | null = null,
): SetUpSheet => ({
  ...EXAMPLE_SHEET,
  lines: Object.entries(targets).map(([item, target]) => ({ item, target, tolerance, unit: null })),
});

const answered: RunningAnswers = Object.fromEntries(BACK_TO_RUNNING.map((item) => [item, 'done']));

describe('versions', () => {
  test('the example is whole, stored and read', () => {
    expect(sheetSchema.parse(JSON.parse(JSON.stringify(EXAMPLE_SHEET)))).toEqual(EXAMPLE_SHEET);
  });

  test('an empty sheet begins a lineage; its diagonal is said', () => {
    const labels = {
      id: 's',
      lineageId: 'l',
      name: 'Wet',
      cross: 'LF+RR',
      writtenAt: 1,
      who: '',
    } as const;
    const sheet = emptySheet(EXAMPLE_CAR, labels);
    expect(sheetSchema.parse(sheet)).toMatchObject({ number: 1, cross: 'LF+RR', lines: [] });
    expect(sheetSchema.safeParse({ ...sheet, cross: undefined }).success).toBe(false);
  });

  test('a copy has the next number of its lineage and no release', () => {
    const released: SetUpSheet = {
      ...EXAMPLE_SHEET,
      released: { at: 1, who: 'race engineer', recordId: 'r', asBuilt: [], backToRunning: [] },
    };
    const copy = copySheet(released, {
      id: 'next',
      writtenAt: 2,
      who: 'crew chief',
      newestNumber: 4,
    });
    expect(copy).toEqual({
      ...EXAMPLE_SHEET,
      id: 'next',
      number: 5,
      copiedFrom: EXAMPLE_SHEET.id,
      changed: '',
      writtenAt: 2,
      who: 'crew chief',
    });
  });

  test('two lines for one item, or two free items of one id, are refused', () => {
    const line = EXAMPLE_SHEET.lines[0]!;
    expect(sheetSchema.safeParse({ ...EXAMPLE_SHEET, lines: [line, line] }).success).toBe(false);
    const extra = { id: 'a', label: 'a', quantity: 'mass', corner: null };
    expect(sheetSchema.safeParse({ ...EXAMPLE_SHEET, extras: [extra, extra] }).success).toBe(false);
  });
});

describe('what a version changes', () => {
  test('nothing against itself', () => {
    expect(sheetDiff(EXAMPLE_SHEET, EXAMPLE_SHEET, EXAMPLE_CAR)).toEqual([]);
  });

  test('each change once, items in the order of the sheet, in the line’s unit', () => {
    const after: SetUpSheet = {
      ...withTarget(EXAMPLE_SHEET, 'camber.LF', -3.2 * DEG),
      cross: 'LF+RR',
      represented: { ...EXAMPLE_SHEET.represented, driver: 'driver' },
      state: { ...EXAMPLE_SHEET.state, fuelMass: 35 },
      notes: 'wet',
    };
    const lines = after.lines
      .filter(({ item }) => item !== 'fuel')
      .map((line) => (line.item === 'toe.LR' ? { ...line, tolerance: 0.01 * DEG } : line));
    const changed = {
      ...after,
      lines: [...lines, { item: 'rackCentre', target: 0, tolerance: 0.0005, unit: 'in' }],
    };
    expect(sheetDiff(EXAMPLE_SHEET, changed, EXAMPLE_CAR).map(({ words }) => words)).toEqual([
      'left front camber: target −3.00° → −3.20°',
      'left rear toe: tolerance 1.2′ → 0.6′',
      'rack off centre: added, target 0.000\u00A0in',
      'fuel: removed, target 20.0\u00A0kg',
      'cross % is: RF+LR → LF+RR',
      'Fuel on board: 20 → 35',
      'driver represented by: dummy → driver',
      'notes changed',
    ]);
  });
});

describe('contradictions', () => {
  test('the example sheet has none', () => {
    expect(contradictionsOf(EXAMPLE_SHEET, EXAMPLE_CAR)).toEqual([]);
  });

  test('front % against the corner weights', () => {
    const [found, ...rest] = contradictionsOf(
      withTarget(EXAMPLE_SHEET, 'frontShare', 0.485),
      EXAMPLE_CAR,
    );
    expect(rest).toEqual([]);
    // (312.4 + 307.5)/1305 = 47.502 %.
    expect(found).toEqual({
      items: ['frontShare', 'weight.LF', 'weight.RF', 'weight.LR', 'weight.RR'],
      difference: expect.closeTo(0.485 - 619.9 / 1305, 12) as number,
      cannotBeMet: true,
      words:
        'Front % is to be 48.5\u00A0%, but the four corner weights give 47.5\u00A0% (+1.0\u00A0%); within their tolerances they cannot all be met. Change one of them.',
    });
  });

  test('a disagreement that the tolerances cover is said, and no more', () => {
    const wide = only(
      { 'weight.LF': 300, 'weight.RF': 300, 'weight.LR': 350, 'weight.RR': 350, total: 1303 },
      1,
    );
    expect(contradictionsOf(wide, EXAMPLE_CAR)).toMatchObject([
      {
        items: ['total', 'weight.LF', 'weight.RF', 'weight.LR', 'weight.RR'],
        difference: 3,
        cannotBeMet: false,
      },
    ]);
  });

  test('cross % is held against the diagonal that the sheet states', () => {
    const weights = { 'weight.LF': 320, 'weight.RF': 300, 'weight.LR': 330, 'weight.RR': 355 };
    const sheet = only({ ...weights, crossShare: 630 / 1305 });
    expect(contradictionsOf(sheet, EXAMPLE_CAR)).toEqual([]);
    const other = contradictionsOf({ ...sheet, cross: 'LF+RR' }, EXAMPLE_CAR);
    expect(other[0]?.difference).toBeCloseTo((630 - 675) / 1305, 12);
    expect(other[0]?.words).toContain('Cross % (LF+RR)');
  });

  test.each<[string, Readonly<Record<string, number>>, string]>([
    ['total toe', { 'toe.LF': 0.001, 'toe.RF': 0.001, 'totalToe.front': 0.003 }, 'totalToe.front'],
    ['thrust angle', { 'toe.LR': 0.003, 'toe.RR': 0.001, thrust: -0.001 }, 'thrust'],
    [
      'rake',
      { 'height.LF': 0.06, 'height.RF': 0.06, 'height.LR': 0.07, 'height.RR': 0.07, rake: 0.01 },
      'rake',
    ],
  ])('%s against what it follows from', (_, targets, item) => {
    expect(contradictionsOf(only(targets), EXAMPLE_CAR).map(({ items }) => items[0])).toEqual([
      item,
    ]);
  });

  test('rake at the axles: 10 mm over 2 m between the points is 13.5 mm over the wheelbase', () => {
    const heights = { 'height.LF': 0.06, 'height.RF': 0.06, 'height.LR': 0.07, 'height.RR': 0.07 };
    expect(contradictionsOf(only({ ...heights, rake: 0.0135 }), EXAMPLE_CAR)).toEqual([]);
  });

  test('corners left out, shares that leave a corner in the air, and the rules', () => {
    const words = (sheet: SetUpSheet): string =>
      contradictionsOf(sheet, EXAMPLE_CAR)
        .map((each) => each.words)
        .join(' ');
    expect(words(only({ 'weight.LF': 300, 'weight.RF': 300, 'weight.LR': 350 }))).toContain(
      'No target for right rear corner weight',
    );
    // LF = (0.3 + 0.3 − 0.7)/2 < 0.
    expect(words(only({ frontShare: 0.3, leftShare: 0.3, crossShare: 0.7 }))).toContain(
      'without load',
    );
    expect(words(only({ total: 1280 }))).toBe(
      'Total is to be 1280.0\u00A0kg; the rules ask for at least 1290.0\u00A0kg. Change the target, or the limit in the car.',
    );
  });
});

describe('release', () => {
  const built = (): ReturnType<typeof sourcesOf> =>
    sourcesOf(
      work(
        read(weighed(freshRecord(), 'c1'), { item: 'height.LF', value: 0.0652, gauge: RULE }),
        'toe link',
        { corner: 'LF' },
      ),
      [captureOf('c1', LEVEL_WEIGHTS)],
    );
  const about = { at: 7, who: 'race engineer', answers: answered };

  test('as-built values, the list and the time are kept; what was not measured is said', () => {
    const released = releaseSheet(EXAMPLE_SHEET, { ...about, sources: built() });
    if (!released.ok) throw new Error(released.why);
    expect(sheetSchema.safeParse(JSON.parse(JSON.stringify(released.sheet))).success).toBe(true);
    const { asBuilt, backToRunning, ...rest } = released.sheet.released!;
    expect(rest).toEqual({ at: 7, who: 'race engineer', recordId: 'record-1' });
    expect(backToRunning.map(({ item }) => item)).toEqual([...BACK_TO_RUNNING]);
    expect(asBuilt.find(({ item }) => item === 'weight.LF')).toEqual({
      item: 'weight.LF',
      value: { value: 312.411, u: 0.02, dof: 30 },
      unknown: [],
      stale: false,
    });
    expect(released.notMeasured).toContain('camber.LF');
    expect(released.notMeasured).not.toContain('height.LF');
  });

  test.each<[string, Partial<typeof about>, SetUpSheet, RegExp]>([
    [
      'an item not answered',
      { answers: { ...answered, 'wheel nuts tight': undefined } as unknown as RunningAnswers },
      EXAMPLE_SHEET,
      /Before the car rolls: wheel nuts tight\./u,
    ],
    [
      'a sheet released before',
      {},
      {
        ...EXAMPLE_SHEET,
        released: { at: 1, who: '', recordId: 'r', asBuilt: [], backToRunning: [] },
      },
      /released already/u,
    ],
    ['a record of another sheet', {}, { ...EXAMPLE_SHEET, id: 'other' }, /not made to this sheet/u],
    ['a record of another car', {}, { ...EXAMPLE_SHEET, carId: 'other' }, /another car/u],
  ])('%s is refused', (_, changes, sheet, why) => {
    const released = releaseSheet(sheet, { ...about, ...changes, sources: built() });
    expect(released.ok ? '' : released.why).toMatch(why);
  });

  test('nothing answered: all of the list is open', () => {
    expect(notAnswered({})).toEqual(BACK_TO_RUNNING);
    expect(notAnswered({ ...answered, 'bars reconnected': 'not on this car' })).toEqual([]);
  });
});
