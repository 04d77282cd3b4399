import { CORNER_NAMES } from '../corners.ts';
import { HARD_SPACE } from '../format/number.ts';
import type { QuantityKind } from '../format/unitTable.ts';
import { changeText } from '../format/valueShown.ts';
import type { Work } from './carRecord.ts';
import type { WorkKind } from './orderOfWork.ts';

/** In what the amount of a piece of work is counted; null where it has none. */
export const WORK_AMOUNT: Readonly<Record<WorkKind, QuantityKind | null>> = {
  'height adjuster': 'turns',
  'camber shim': 'length',
  caster: 'angle',
  'toe link': 'angle',
  'steering rack': 'length',
  'bar preload': 'length',
  damper: 'clicks',
  spring: null,
  wheel: null,
  'tyre pressure': 'pressure',
  ballast: 'mass',
  fuel: 'mass',
  driver: 'mass',
  'patch laid again': null,
  other: null,
};

/** Where a piece of work can be: at a corner, an axle, a ballast place, or the car as a whole. */
export const WORK_PLACE: Readonly<Record<WorkKind, 'corner' | 'axle' | 'ballast place' | 'car'>> = {
  'height adjuster': 'corner',
  'camber shim': 'corner',
  caster: 'corner',
  'toe link': 'corner',
  'steering rack': 'axle',
  'bar preload': 'axle',
  damper: 'corner',
  spring: 'corner',
  wheel: 'corner',
  'tyre pressure': 'corner',
  ballast: 'ballast place',
  fuel: 'car',
  driver: 'car',
  'patch laid again': 'car',
  other: 'car',
};

/** "left front height adjuster, +1.00 turns". */
export const workInWords = (
  { what, corner, axle, part, amount }: Pick<Work, 'what' | 'corner' | 'axle' | 'part' | 'amount'>,
  placeName: (part: string) => string,
): string => {
  const where = corner ? CORNER_NAMES[corner] : (axle ?? (part === null ? '' : placeName(part)));
  const name = [where, what].filter(Boolean).join(' ');
  const kind = WORK_AMOUNT[what];
  if (amount === null || kind === null) return name;
  return `${name},${HARD_SPACE}${changeText({ kind, unit: null }, amount)}`;
};
