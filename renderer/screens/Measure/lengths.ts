import { valueText } from '../../../core/format/valueShown.ts';

/** Lengths of a car as they are typed. */
export const LENGTH = { kind: 'length', unit: 'mm' } as const;

/** Refuses what lies outside, in words. */
export const within =
  (least: number, most: number) =>
  (value: number): string | null =>
    value < least || value > most
      ? `From ${valueText(LENGTH, least)} to ${valueText(LENGTH, most)}.`
      : null;

/** Refuses nothing and what is below, and what no part is. */
export const upTo =
  (most: number) =>
  (value: number): string | null =>
    value > 0 && value <= most ? null : `Above 0, at most ${valueText(LENGTH, most)}.`;

export const aboveZero = (value: number): string | null => (value > 0 ? null : 'Above nothing.');
