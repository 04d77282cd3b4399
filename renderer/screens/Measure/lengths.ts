import { MM, valueText } from '../../../core/format/valueShown.ts';

/** Refuses what lies outside, in words. */
export const within =
  (least: number, most: number) =>
  (value: number): string | null =>
    value < least || value > most
      ? `From ${valueText(MM, least)} to ${valueText(MM, most)}.`
      : null;

/** Refuses nothing and what is below, and what no part is. */
export const upTo =
  (most: number) =>
  (value: number): string | null =>
    value > 0 && value <= most ? null : `Above 0, at most ${valueText(MM, most)}.`;

export const aboveZero = (value: number): string | null => (value > 0 ? null : 'Above zero.');
