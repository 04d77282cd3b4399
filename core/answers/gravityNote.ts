import { gravityByMass } from '../calibration/checkMass.ts';
import type { BenchState, CalibrationShown } from '../contract/events.ts';
import { capital } from '../format/capital.ts';
import { fixed, HARD_SPACE, signed } from '../format/number.ts';
import { inWords, massShown } from '../format/quantity.ts';
import { massIn, type MassUnit } from '../units.ts';

/** Changes smaller than this are not worth a word, kg on the whole car; common practice, no source. */
const WORTH_SAYING = 0.05;

/** The spans by the place and gravity at which they were made, most pads first. */
const spansOf = (state: BenchState): readonly CalibrationShown['place'][] => {
  const spans = state.pads.flatMap(({ corner, calibration }) =>
    corner && calibration ? [calibration.place] : [],
  );
  const groups = [...Map.groupBy(spans, ({ name, gravity }) => `${name} ${gravity}`).values()];
  return groups
    .toSorted((a, b) => b.length - a.length)
    .flatMap(([place]) => (place ? [place] : []));
};

/**
 * What gravity does to a car here, in words: what the pads would read too little or too much with their
 * spans left in kilograms, and that it is taken out, once, where force becomes mass. `total` in kg, null
 * without a car. Null while no pad is calibrated.
 */
export const gravityNote = (state: BenchState, total: number | null): string | null => {
  const spans = spansOf(state);
  if (spans.length === 0) return null;
  const { massUnit } = state.settings;
  const parts = spans.map((span) => {
    const change = (total ?? 0) * (state.gravity / span.gravity - 1);
    if (span.gravity === state.gravity) return `span from ${span.name}, same gravity`;
    if (total === null || Math.abs(change) < WORTH_SAYING)
      return `span from ${span.name}, here ${fixed(100 * (state.gravity / span.gravity - 1), 3)}${HARD_SPACE}%, taken out`;
    return `span from ${span.name}, here ${signed(massIn(massUnit, change), 1)}${HARD_SPACE}${massUnit} on this car, taken out`;
  });
  const text = parts.join('; ');
  return `${capital(text)}.`;
};

/**
 * What a check mass may say of gravity here, in words: only where it is heavy enough. `read` and `u` in
 * kg with all that is known of the check in u.
 */
export const gravityByCheck = (check: {
  readonly mass: number;
  readonly read: number;
  readonly u: number;
  readonly here: number;
  /** Where the span was made. */
  readonly span: { readonly name: string; readonly gravity: number };
  readonly unit: MassUnit;
}): string => {
  const { mass, read, u, here, span, unit } = check;
  const found = gravityByMass({ mass, read, u, here, other: span.gravity });
  if (!found.canTell)
    return Number.isFinite(found.leastMass)
      ? `Gravity: cannot tell with this mass; ${inWords(massShown(unit, found.leastMass, { decimals: 0 }))} could.`
      : 'Gravity: the span was made here, there is nothing to tell.';
  switch (found.fits) {
    case 'here':
      return 'Gravity: the mass agrees with the gravity of this place.';
    case 'other':
      return `Gravity: the mass reads as if gravity were that of ${span.name}. Check the venue, or type a measured g.`;
    case null:
      return 'Gravity: the mass fits neither place; check the span first.';
  }
};
