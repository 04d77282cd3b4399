import type { Settings } from '../../contract/settings.ts';
import { cornerLabel, perCorner, type Corner } from '../../corners.ts';
import { valueText, type Wanted } from '../../format/valueShown.ts';
import { BACK_TO_RUNNING } from '../../sheet/backToRunning.ts';
import type { Car } from '../../sheet/car.ts';
import { CAR_STATE_ITEMS, checkCarState, type CarState } from '../../sheet/carState.ts';
import { itemsById, itemsOf, type Item } from '../../sheet/items.ts';
import { itemValue, type ValueSources } from '../../sheet/itemValue.ts';
import { lineOf, type SetUpSheet } from '../../sheet/setUpSheet.ts';
import { utcInWords } from '../../format/civilTime.ts';
import type { PaperCell, PaperFact } from '../paperDocument.ts';
import { itemGroups, shortLabel } from './itemGroups.ts';
import type { SheetContent, SheetGroup, SheetLine } from './sheetPaper.ts';

/** What a printed sheet is made of. */
export interface SheetPrinted {
  readonly car: Car;
  readonly settings: Settings;
  /** Null where a record was made without a sheet. */
  readonly sheet: SetUpSheet | null;
  /** The record that is printed; null prints the sheet alone. */
  readonly sources: ValueSources | null;
  readonly venueName: string | null;
  /** Kept in the practice world. */
  readonly practice: boolean;
  readonly created: number;
}

/** A value of an item as it is printed, with what is to be said of it. */
interface Printed {
  readonly value: number;
  readonly u: number | null;
  readonly stale: boolean;
}

const FOOT = 'Numbers are not permission: the series’ rules and the officials’ equipment decide.';

const readerOf = ({ sheet, sources }: SheetPrinted): ((id: string) => Printed | null) => {
  if (sources)
    return (id) => {
      const value = itemValue(id, sources);
      return value.is === 'missing'
        ? null
        : { value: value.value.value, u: value.value.u, stale: value.stale };
    };
  const built = new Map(sheet?.released?.asBuilt.map((each) => [each.item, each]));
  return (id) => {
    const found = built.get(id);
    return found ? { value: found.value.value, u: found.value.u, stale: found.stale } : null;
  };
};

const verdictOf = (
  read: Printed | null,
  target: number | null,
  tolerance: number | null,
): PaperCell => {
  if (!read) return '';
  if (read.stale) return { text: 'stale', mark: 'open' };
  if (target === null || tolerance === null) return '';
  return Math.abs(read.value - target) <= tolerance
    ? { text: 'in', mark: 'good' }
    : { text: 'out', mark: 'bad' };
};

const stateFact = (state: CarState, agreed: CarState | null): PaperFact => {
  const unchecked = CAR_STATE_ITEMS.filter(
    ({ item }) => state[item] === null || state[item] === 'not checked',
  ).length;
  const notes = agreed ? checkCarState(state, agreed).length : unchecked;
  const of = CAR_STATE_ITEMS.length;
  return {
    name: 'State of the car',
    value:
      notes === 0
        ? { text: agreed ? 'as on the sheet' : 'checked', mark: 'good' }
        : {
            text: agreed
              ? `${notes} of ${of} not as on the sheet`
              : `${unchecked} of ${of} not checked`,
            mark: 'open',
          },
  };
};

const factsOf = (about: SheetPrinted): readonly PaperFact[] => {
  const { car, sheet, sources, settings } = about;
  const record = sources?.record ?? null;
  const state = record?.state ?? sheet?.state ?? null;
  const represented = record?.represented ?? sheet?.represented;
  const mass = (value: number | null): string =>
    value === null ? 'not stated' : valueText({ kind: 'mass', unit: settings.massUnit }, value);
  return [
    { name: 'Car', value: car.name },
    {
      name: 'Sheet',
      value: sheet ? `${sheet.name} no. ${sheet.number}` : 'none',
    },
    {
      name: 'Released',
      value: sheet?.released ? utcInWords(sheet.released.at) : 'not yet',
    },
    ...(record ? [{ name: 'Begun', value: utcInWords(record.begunAt) }] : []),
    ...(about.venueName === null ? [] : [{ name: 'Venue', value: about.venueName }]),
    { name: 'Cross weight', value: `${sources?.cross ?? sheet?.cross ?? 'RF+LR'} over the total` },
    ...(state
      ? [
          { name: 'Wheels', value: state.wheels },
          {
            name: 'Driver',
            value: `${mass(state.seatMass)}, by ${represented?.driver ?? 'not stated'}`,
          },
          {
            name: 'Fuel',
            value: `${mass(state.fuelMass)}, by ${represented?.fuel ?? 'not stated'}`,
          },
          stateFact(state, record && sheet ? sheet.state : null),
        ]
      : []),
    { name: 'Measured by', value: null },
    { name: 'Time', value: null },
  ];
};

const centreOf = (sources: ValueSources | null): SheetContent['plan']['centre'] => {
  const newest = sources?.record.entries.findLast(
    (entry) => entry.is === 'capture' && !entry.setAside,
  );
  const capture = newest?.is === 'capture' ? sources?.captures.get(newest.captureId) : undefined;
  return capture
    ? {
        behindFront: capture.balance.cgBehindFrontAxle.value,
        left: capture.balance.cgLeftOfCentre.value,
      }
    : null;
};

/**
 * A set-up sheet or a record as it is printed: every item of the sheet and every one that was measured,
 * with target, tolerance and value, in the units of the sheet. Room for a pencil where nothing is known.
 */
export const sheetContent = (about: SheetPrinted): SheetContent => {
  const { car, settings, sheet, sources } = about;
  const items = sources?.items ?? itemsById(itemsOf(car, sheet?.extras ?? []));
  const read = readerOf(about);
  const wantedOf = (item: Item): Wanted => ({
    kind: item.quantity,
    unit:
      (sheet && lineOf(sheet, item.id)?.unit) ??
      (item.quantity === 'mass' ? settings.massUnit : null),
  });
  const text = (item: Item, { value, u }: Pick<Printed, 'value' | 'u'>): string =>
    valueText(wantedOf(item), value, u);

  const line = (item: Item): SheetLine => {
    const { target = null, tolerance = null } = (sheet && lineOf(sheet, item.id)) ?? {};
    const found = read(item.id);
    return {
      item: shortLabel(item, settings.cornerLabels),
      target: target === null ? '' : text(item, { value: target, u: null }),
      tolerance: tolerance === null ? '' : text(item, { value: tolerance, u: null }),
      value: found ? text(item, found) : null,
      change: '',
      verdict: verdictOf(found, target, tolerance),
    };
  };
  const shown = [...items.values()].filter(
    (item) => (sheet && lineOf(sheet, item.id)) || (sources && read(item.id)),
  );
  const groups = itemGroups(shown).map(({ heading, items: own }): SheetGroup => ({
    heading,
    lines: own.map(line),
  }));

  const atCorner = (corner: Corner): readonly PaperCell[] => {
    const of = (kind: Item['kind'], name: string): PaperCell[] => {
      const item = [...items.values()].find((each) => each.kind === kind && each.corner === corner);
      if (!item) return [];
      const found = read(item.id);
      const target = sheet && lineOf(sheet, item.id)?.target;
      if (found) return [`${name}${text(item, found)}`];
      return target === null || target === undefined
        ? []
        : [`${name}to be ${text(item, { value: target, u: null })}`];
    };
    return [
      ...of('weight', ''),
      ...of('height', 'Height '),
      ...of('camber', 'Camber '),
      ...of('toe', 'Toe '),
      null,
    ];
  };
  const totals = (['total', 'frontShare', 'leftShare', 'crossShare'] as const).flatMap((id) => {
    const item = items.get(id);
    const found = item && read(id);
    return item && found ? [`${item.label} ${text(item, found)}`] : [];
  });
  const record = sources?.record ?? null;
  const ticked = new Set(sheet?.released?.backToRunning.map(({ item }) => item));
  return {
    kind: record ? `Car record, ${record.phase}` : 'Set-up sheet',
    title: `${car.name}${sheet ? `, ${sheet.name} no. ${sheet.number}` : ''}`,
    stamp: about.practice ? 'practice' : null,
    created: about.created,
    foot: `${FOOT} ${record ? `Record ${record.id}` : `Sheet ${sheet?.id ?? ''}`}`,
    facts: factsOf(about),
    plan: {
      wheelbase: car.wheelbase,
      trackFront: car.trackFront,
      trackRear: car.trackRear,
      corners: perCorner((corner) => ({
        label: cornerLabel(corner, settings.cornerLabels),
        lines: atCorner(corner),
      })),
      centre: centreOf(sources),
      below: totals.join(', '),
    },
    groups,
    ticks: {
      heading: 'Before the car rolls',
      items: BACK_TO_RUNNING.map((item) => ({ text: item, ticked: ticked.has(item) })),
    },
  };
};
