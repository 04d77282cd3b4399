import { cornerLabel, type Corner, type CornerLabelStyle } from '../../corners.ts';
import { capital } from '../../format/capital.ts';
import { valueText } from '../../format/valueShown.ts';
import type { Measured } from '../../measured.ts';
import type { MassUnit } from '../../units.ts';
import type { CauseWhat } from './cause.ts';

/** How the crew reads: corner labels and the unit of mass. */
export interface Wording {
  readonly labels: CornerLabelStyle;
  readonly massUnit: MassUnit;
}

export interface CauseWords {
  /** "RF seat, spring or damper". */
  readonly name: string;
  /** "about 1.2 mm down"; empty where the cause has no size of its own. */
  readonly size: string;
  /** Standard uncertainty of the size with its unit, for the details; empty as `size`. */
  readonly u: string;
  /** What would confirm it, said as something to do. */
  readonly confirm: string;
}

const BESIDE: Readonly<Record<Corner, Corner>> = { LF: 'RF', RF: 'LF', LR: 'RR', RR: 'LR' };

interface Told {
  readonly name: string;
  readonly kind: 'length' | 'mass' | 'angle' | 'kilogram metre' | null;
  /** What follows the size, for a size above zero and below. */
  readonly more: string;
  readonly less: string;
  readonly confirm: string;
}

const told = (what: CauseWhat, labels: CornerLabelStyle): Told => {
  const label = (corner: Corner): string => cornerLabel(corner, labels);
  switch (what.kind) {
    case 'strut':
      return {
        name: `${label(what.corner)} seat, spring or damper`,
        kind: 'length',
        more: 'up',
        less: 'down',
        confirm: 'count the threads, then measure the spring’s free length and settle again',
      };
    case 'pad height':
      return {
        name: `height of the ${label(what.corner)} pad`,
        kind: 'length',
        more: 'higher',
        less: 'lower',
        confirm: 'survey the patch again',
      };
    case 'wheel':
      return {
        name: `${label(what.corner)} set-up wheel`,
        kind: 'length',
        more: 'larger in radius',
        less: 'smaller in radius',
        confirm: 'move the wheel to another corner and weigh again',
      };
    case 'wheels exchanged':
      return {
        name: `${label(what.one)} and ${label(what.other)} set-up wheels exchanged`,
        kind: null,
        more: '',
        less: '',
        confirm: 'read the corners marked on the set-up wheels',
      };
    case 'pad':
      return {
        name: `zero or span of the ${label(what.corner)} pad`,
        kind: 'mass',
        more: 'too much',
        less: 'too little',
        confirm: `raise the car and read the zero, then swap pads ${label(what.corner)} and ${label(BESIDE[what.corner])}`,
      };
    case 'toe link':
      return {
        name: `${label(what.corner)} toe link`,
        kind: 'angle',
        more: 'in',
        less: 'out',
        confirm: 'look at the link and its locknuts',
      };
    case 'camber shim':
      return {
        name: `${label(what.corner)} camber shim`,
        kind: 'angle',
        more: 'more positive',
        less: 'more negative',
        confirm: 'count the shims and look at the wishbone',
      };
    case 'bar': {
      const [left, right]: readonly [Corner, Corner] =
        what.axle === 'front' ? ['LF', 'RF'] : ['LR', 'RR'];
      return {
        name: `${what.axle} bar preload`,
        kind: 'mass',
        more: `onto ${label(left)}`,
        less: `onto ${label(right)}`,
        confirm: `disconnect the ${what.axle} bar and weigh again`,
      };
    }
    case 'twist':
      return {
        name: 'chassis twist',
        kind: 'length',
        more: `with ${label('LF')} up`,
        less: `with ${label('LF')} down`,
        confirm: 'turn the car round on the pads and weigh again',
      };
    case 'mass': {
      const { kind, name } = what.place;
      const [words, confirm] = {
        fuel: ['fuel', 'dip the fuel'],
        ballast: [`ballast ${name}`, 'count the plates'],
        driver: ['driver or dummy', 'weigh the driver or dummy as seated'],
      }[kind] as [string, string];
      return { name: words, kind: 'mass', more: 'more', less: 'less', confirm };
    }
    case 'mass along':
    case 'mass across': {
      const along = what.kind === 'mass along';
      return {
        name: `something moved ${along ? 'along' : 'across'} the car`,
        kind: 'kilogram metre',
        more: along ? 'forward' : 'to the left',
        less: along ? 'back' : 'to the right',
        confirm: 'look at the seat, the battery and the ballast',
      };
    }
    case 'ballast moved':
      return {
        name: `ballast moved between ${what.from.name} and ${what.to.name}`,
        kind: 'mass',
        more: `to ${what.to.name}`,
        less: `to ${what.from.name}`,
        confirm: 'count the plates',
      };
    case 'height point':
      return {
        name: `ride-height point ${what.name}, bent or misread`,
        kind: 'length',
        more: 'more',
        less: 'less',
        confirm: 'measure it again and look at the point',
      };
  }
};

/** A cause and its size as people say them. Sizes are in the unit of the kind (see `CauseWhat`). */
export const causeWords = (
  what: CauseWhat,
  { value, u }: Measured,
  { labels, massUnit }: Wording,
): CauseWords => {
  const { name, kind, more, less, confirm } = told(what, labels);
  const shown = (size: number, fineness: number): string => {
    if (kind === null) return '';
    if (kind === 'kilogram metre')
      return `${valueText({ kind: 'mass', unit: massUnit }, size, fineness)} times 1 m`;
    return valueText({ kind, unit: kind === 'mass' ? massUnit : null }, size, fineness);
  };
  // "About": the last digit is of the order of the uncertainty.
  const about = shown(Math.abs(value), u > 0 ? 3 * 10 ** Math.round(Math.log10(u)) : 0);
  return {
    name: capital(name),
    size: kind === null ? '' : `about ${about} ${value < 0 ? less : more}`,
    u: shown(u, u),
    confirm,
  };
};
