import { ageShown, inWords, massShown } from '../../../core/format/quantity.ts';
import type { CornerLive } from '../../../core/contract/events.ts';
import type { Measured } from '../../../core/measured.ts';
import type { MassUnit } from '../../../core/units.ts';

/** One corner as its block shows it: texts only, so that a block is drawn again when one changes. */
export interface CornerView {
  readonly status: CornerLive['status'];
  readonly stillness: CornerLive['stillness'];
  /** Null where there is no weight to show: no pad, or no zero. */
  readonly number: string | null;
  readonly u: string | null;
  /** How old, while it is not live. */
  readonly age: string | null;
  /** Where it is going to settle, while it moves; null where nothing can be said. */
  readonly early: string | null;
  readonly overload: boolean;
  readonly calibrated: boolean;
  readonly zeroed: boolean;
}

/**
 * Decimals while nothing says how well a load is known. A moving load is whole kilograms or pounds, a
 * calming one tenths: enough to follow, too little to believe. Common practice, no source.
 */
export const roughDecimals = (stillness: CornerLive['stillness']): number =>
  stillness === 'calming' ? 1 : 0;

/** What a corner shows of its newest reading. */
export const cornerView = (
  corner: CornerLive | null,
  early: Measured | null,
  unit: MassUnit,
): CornerView => {
  if (!corner)
    return {
      status: 'absent',
      stillness: null,
      number: null,
      u: null,
      age: null,
      early: null,
      overload: false,
      calibrated: true,
      zeroed: true,
    };
  const { status, stillness, mass, mean, u, age, overload, calibrated, zeroed } = corner;
  const hasWeight = mass !== null && zeroed && status !== 'absent';
  const shown = !hasWeight
    ? null
    : mean !== null && u !== null && stillness !== 'moving' && stillness !== 'calming'
      ? massShown(unit, mean, u)
      : massShown(unit, mass, { decimals: roughDecimals(stillness) });
  return {
    status,
    stillness: status === 'live' ? stillness : null,
    number: shown?.number ?? null,
    u: shown?.u ?? null,
    age: status === 'stale' && age !== null ? ageShown(age) : null,
    early:
      early && hasWeight && status === 'live'
        ? inWords(massShown(unit, early.value, early.u))
        : null,
    overload,
    calibrated,
    zeroed,
  };
};
