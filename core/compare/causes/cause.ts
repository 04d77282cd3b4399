import type { Corner } from '../../corners.ts';
import type { MassPlace } from './causeCar.ts';

/**
 * What may have happened, with the unit and the positive sense of its size.
 *
 * strut: seat, spring (rate or sag) or damper (gas, friction) of a corner, as metre of seat height at the
 * wheel, up. bar: preload, as kilogram on the left wheel. twist: the chassis bent, as metre that the left
 * front is out of the plane of the other three. mass: kilogram more at a place. mass along, mass across:
 * kilogram metre moved forward, to the left. ballast moved: kilogram. pad height, wheel: metre
 * higher, larger. wheels exchanged: metre that `one` now has more. pad: kilogram that it reads more, by
 * zero or span. toe link: radian toe-in. camber shim: radian. height point: metre that it reads more.
 */
export type CauseWhat =
  | { readonly kind: 'strut' | 'pad height' | 'wheel' | 'pad'; readonly corner: Corner }
  | { readonly kind: 'toe link' | 'camber shim'; readonly corner: Corner }
  | { readonly kind: 'bar'; readonly axle: 'front' | 'rear' }
  | { readonly kind: 'twist' | 'mass along' | 'mass across' }
  | { readonly kind: 'mass'; readonly place: MassPlace }
  | { readonly kind: 'ballast moved'; readonly from: MassPlace; readonly to: MassPlace }
  | { readonly kind: 'wheels exchanged'; readonly one: Corner; readonly other: Corner }
  | { readonly kind: 'height point'; readonly item: string; readonly name: string };

export type CauseKind = CauseWhat['kind'];

/** Stable name of a cause, for ruling it out. */
export const causeId = (what: CauseWhat): string => {
  switch (what.kind) {
    case 'bar':
      return `bar ${what.axle}`;
    case 'mass':
      return `${what.place.kind} ${what.place.name}`;
    case 'ballast moved':
      return `ballast ${what.from.name} to ${what.to.name}`;
    case 'wheels exchanged':
      return `wheels ${what.one} ${what.other}`;
    case 'height point':
      return `height point ${what.item}`;
    case 'twist':
    case 'mass along':
    case 'mass across':
      return what.kind;
    case 'strut':
    case 'pad height':
    case 'wheel':
    case 'pad':
    case 'toe link':
    case 'camber shim':
      return `${what.kind} ${what.corner}`;
  }
};

/** Whether it would be the pads, the patch or the set-up wheels that changed, and not the car. */
export const isNotTheCar = ({ kind }: CauseWhat): boolean =>
  kind === 'pad' || kind === 'pad height' || kind === 'wheel' || kind === 'wheels exchanged';

/**
 * Largest size of a cause that is believed, in its unit: beyond it is no explanation. Common practice,
 * no source.
 */
export const MOST: Readonly<Record<CauseKind, number>> = {
  strut: 0.02,
  bar: 80,
  twist: 0.02,
  mass: 150,
  'mass along': 150,
  'mass across': 100,
  'ballast moved': 80,
  'pad height': 0.01,
  wheel: 0.01,
  'wheels exchanged': 0.01,
  pad: 30,
  'toe link': 0.06,
  'camber shim': 0.06,
  'height point': 0.03,
};
