import { describe, expect, test } from 'vitest';
import { CORNERS } from '../../../core/corners.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { impossibleValue } from '../../../core/sheet/impossibleValue.ts';
import { itemIdSchema } from '../../../core/sheet/itemId.ts';
import { itemsById, itemsOf, type ExtraItem } from '../../../core/sheet/items.ts';
import { mixedUp } from '../../../core/sheet/mixedUp.ts';
import { disturbs, type WorkPlace } from '../../../core/sheet/orderOfWork.ts';
import { walkOf } from '../../../core/sheet/walk.ts';

const DEG = Math.PI / 180;
const EXTRAS: readonly ExtraItem[] = [
  { id: 'wing', label: 'wing angle', quantity: 'angle', corner: null },
  { id: 'duct', label: 'brake duct blanking', quantity: 'length', corner: 'LF' },
];
const ITEMS = itemsOf(EXAMPLE_CAR, EXTRAS);
const BY_ID = itemsById(ITEMS);
const item = (id: string) => {
  const found = BY_ID.get(id);
  if (!found) throw new Error(`no item ${id}`);
  return found;
};

describe('the catalogue', () => {
  test('ids are unlike, and such as a sheet can store', () => {
    expect(BY_ID.size).toBe(ITEMS.length);
    for (const { id } of ITEMS) expect(itemIdSchema.safeParse(id).success, id).toBe(true);
  });

  test('what a sheet must be able to hold is there', () => {
    const places = ['LF', 'RF', 'LR', 'RR'];
    const wanted = [
      ...[
        'weight',
        'camber',
        'toe',
        'perch',
        'droopGap',
        'bumpGap',
        'damperLength',
        'dropLink',
      ].flatMap((kind) => places.map((corner) => `${kind}.${corner}`)),
      ...['total', 'frontShare', 'leftShare', 'crossShare', 'rake', 'thrust', 'rackCentre'],
      ...['caster.LF', 'caster.RF', 'steeringAxis.LF', 'steeringAxis.RF'],
      ...['totalToe.front', 'totalToe.rear', 'wheelbase.left', 'wheelbase.right'],
      ...['height.LF', 'height.RR', 'ballast.nose', 'ballast.floor', 'fuel', 'driver'],
      ...places.flatMap((corner) =>
        [-20, -10, '+10', '+20'].map((mm) => `bumpSteer.${corner}.${mm}`),
      ),
      ...['extra.wing', 'extra.duct'],
    ];
    expect(wanted.filter((id) => !BY_ID.has(id))).toEqual([]);
    expect(item('camber.RR').label).toBe('right rear camber');
    expect(item('height.LR')).toMatchObject({ corner: 'LR', label: 'ride height left rear floor' });
    expect(item('bumpSteer.LF.-10').label).toBe('left front toe at −10 mm');
  });

  test('a car without details has no ride heights and no ballast', () => {
    const bare = itemsOf({ ...EXAMPLE_CAR, details: null }, []);
    expect(bare.some(({ kind }) => kind === 'height' || kind === 'ballast')).toBe(false);
    expect(bare.some(({ id }) => id === 'perch.LF')).toBe(true);
  });

  test('a position is counted as the adjuster of its corner is', () => {
    const details = EXAMPLE_CAR.details;
    const perch = details?.adjusters.LF;
    if (!details || !perch) throw new Error('no adjuster');
    const car = {
      ...EXAMPLE_CAR,
      details: {
        ...details,
        adjusters: { ...details.adjusters, LF: { ...perch, countedIn: 'clicks' as const } },
      },
    };
    const found = itemsById(itemsOf(car, []));
    expect(found.get('perch.LF')).toMatchObject({
      quantity: 'clicks',
      label: 'left front perch clicks',
    });
    expect(found.get('perch.RF')).toMatchObject({
      quantity: 'turns',
      label: 'right front perch threads',
    });
  });
});

describe('the walk', () => {
  const asked = [
    'height.LF',
    'camber.LF',
    'toe.LF',
    'camber.RR',
    'height.RR',
    'camber.LR',
    'camber.RF',
    'total',
    'caster.LF',
    'rake',
    'fuel',
    'extra.duct',
  ].map(item);

  test('once round the car, corner by corner, only what is typed', () => {
    expect(walkOf(asked, []).map(({ id }) => id)).toEqual([
      'height.LF',
      'camber.LF',
      'toe.LF',
      'extra.duct',
      'camber.RF',
      'height.RR',
      'camber.RR',
      'camber.LR',
      'caster.LF',
      'fuel',
    ]);
  });

  test('the crew’s own order counts; what is new to it stands by its neighbour', () => {
    const remembered = ['camber.RR', 'camber.RF', 'gone', 'height.LF', 'camber.RR'];
    expect(walkOf(asked, remembered).map(({ id }) => id)).toEqual([
      'camber.RR',
      'camber.LR',
      'caster.LF',
      'fuel',
      'camber.RF',
      'height.RR',
      'height.LF',
      'camber.LF',
      'toe.LF',
      'extra.duct',
    ]);
  });
});

describe('which work disturbs which item', () => {
  const touched = (place: Partial<WorkPlace> & Pick<WorkPlace, 'what'>): ReadonlySet<string> =>
    new Set(
      ITEMS.filter((each) =>
        disturbs({ corner: null, axle: null, part: null, ...place }, each),
      ).map(({ id }) => id),
    );

  test('a perch leaves total, front % and left % alone, and moves all four corners', () => {
    const after = touched({ what: 'height adjuster', corner: 'RF' });
    for (const corner of CORNERS)
      for (const kind of ['weight', 'height', 'camber', 'toe'])
        expect(after.has(`${kind}.${corner}`)).toBe(true);
    expect(after.has('crossShare') && after.has('rake') && after.has('perch.RF')).toBe(true);
    for (const id of [
      'total',
      'frontShare',
      'leftShare',
      'perch.LF',
      'wheelbase.left',
      'steeringAxis.LF',
      'fuel',
    ])
      expect(after.has(id), id).toBe(false);
  });

  test('a toe link reaches its wheel, its axle and nothing else', () => {
    expect([...touched({ what: 'toe link', corner: 'LR' })].toSorted()).toEqual(
      [
        'bumpSteer.LR.+10',
        'bumpSteer.LR.+20',
        'bumpSteer.LR.-10',
        'bumpSteer.LR.-20',
        'thrust',
        'toe.LR',
        'totalToe.rear',
      ].toSorted(),
    );
    expect(touched({ what: 'toe link', corner: 'LF' }).has('thrust')).toBe(false);
  });

  test('where the work does not say its place, all places are disturbed', () => {
    const after = touched({ what: 'camber shim' });
    expect(CORNERS.every((corner) => after.has(`camber.${corner}`))).toBe(true);
    expect(after.has('wheelbase.left') && after.has('wheelbase.right') && after.has('thrust')).toBe(
      true,
    );
    expect(touched({ what: 'ballast', part: 'nose' }).has('ballast.floor')).toBe(false);
  });
});

describe('numbers that cannot be', () => {
  test('an impossible toe, and the unit that was meant', () => {
    // 11.284 typed where 11.284′ was meant (1.5 mm over 457 mm).
    expect(impossibleValue(11.284 * DEG, item('toe.LF'), { field: '°' })).toBe(
      'left front toe cannot be 11.28°: it lies between −10.00° and 10.00°. Is it ′ in a field of °?',
    );
    expect(impossibleValue(0.19 * DEG, item('toe.LF'), { field: null })).toBeNull();
    expect(impossibleValue(1.5, item('toe.LF'), 'file')).toContain(
      'Is it ° or ′ in a field of rad?',
    );
    expect(impossibleValue(50.4, item('crossShare'), 'file')).toContain(
      'Is it % in a field of fractions of one?',
    );
    expect(impossibleValue(65, item('height.LF'), 'file')).toContain('Is it mm');
    expect(impossibleValue(1e9, item('toe.LF'), 'file')).toContain('Read it again.');
  });

  test.each([
    [688.75, 312.41, 'Is it lb in a field of kg?', 312.41],
    [141.7, 312.41, 'Is it kg taken as lb?', 312.4],
    [312.9, 312.41, null, 0],
    [400, 312.41, null, 0],
  ])('%s kg where %s is expected', (value, expected, words, meant) => {
    const found = mixedUp(value, { kind: 'mass', field: null, expected, possible: [0, 2000] });
    expect(found?.words ?? null).toBe(words);
    if (found) expect(found.meant).toBeCloseTo(meant, 1);
  });

  test('kilograms in a field of pounds', () => {
    const value = 312.4 * 0.45359237;
    const found = mixedUp(value, {
      kind: 'mass',
      field: 'lb',
      expected: 312.4,
      possible: [0, 2000],
    });
    expect(found).toEqual({
      meant: expect.closeTo(312.4, 9) as number,
      words: 'Is it kg in a field of lb?',
    });
  });
});
