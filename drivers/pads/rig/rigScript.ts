import type { Corner } from '../../../core/corners.ts';
import type { AirChances } from './airFaults.ts';

/**
 * What happens on the rig by itself, as data: at `at` seconds after the rig began, this. Entries
 * may stand in any order; those of the same time happen in the order written. For example
 *
 *   [
 *     { at: 2, do: 'lower' },
 *     { at: 10, do: 'fade', pad: 'LR', seconds: 4 },
 *     { at: 20, do: 'turn', corner: 'RF', turns: 1 },
 *     { at: 25, do: 'charge', pad: 'spare', percent: 12 },
 *     { at: 30, do: 'raise' },
 *   ]
 *
 * lowers the car, lets the left rear pad fade from the air for four seconds, turns a perch, runs
 * the spare pad's battery down and raises the car.
 */
export type RigEvent =
  | { readonly do: 'lower' }
  | { readonly do: 'raise' }
  /** Up positive; the perch moves at the pace of a hand. */
  | { readonly do: 'turn'; readonly corner: Corner; readonly turns: number }
  | { readonly do: 'lean'; readonly on: boolean }
  /** The pad cannot be heard for so long; it goes on sampling. */
  | { readonly do: 'fade'; readonly pad: RigPadName; readonly seconds: number }
  /** What the air does to the pad's notifications from now on. */
  | { readonly do: 'air'; readonly pad: RigPadName; readonly chances: AirChances }
  /** The pad's battery now holds so much; at and under 15 it is low, at 0 it is dead. */
  | { readonly do: 'charge'; readonly pad: RigPadName; readonly percent: number }
  | { readonly do: 'restart'; readonly pad: RigPadName }
  /** One conversion is wrong by so many kilogram. */
  | { readonly do: 'spike'; readonly pad: RigPadName; readonly mass: number };

/** A pad by where it stands. */
export type RigPadName = Corner | 'spare';

export type RigScript = readonly (RigEvent & { readonly at: number })[];
