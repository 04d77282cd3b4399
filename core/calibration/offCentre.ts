import type { Limits } from '../contract/calibrationRecord.ts';
import { measured, type Measured } from '../measured.ts';
import { moments } from '../signal/moments.ts';
import { studentT } from '../signal/studentT.ts';
import { effectiveDof } from '../uncertainty/combine.ts';
import { limitAt } from './limitAt.ts';

/** Where the mass stood: the middle, and four edges as seen with the car's front ahead. */
export const OFF_CENTRE_PLACES = ['middle', 'front', 'rear', 'left', 'right'] as const;
export type OffCentrePlace = (typeof OFF_CENTRE_PLACES)[number];

export interface OffCentreTest {
  /** Masses read, kg; a place may be read more than once, and the middle should be, first and last. */
  readonly readings: readonly { readonly place: OffCentrePlace; readonly read: Measured }[];
  /** Mass applied, kg. */
  readonly mass: number;
  /** How far from the middle the edges were, metre. */
  readonly distance: number;
  /** Limits to hold it against (OIML R 76-1:2006, 3.6.2: each place within the limit of the load). */
  readonly against: Limits | null;
}

export interface OffCentreFound {
  /** Mean over the readings of each place less that of the middle, kg. */
  readonly places: readonly {
    readonly place: OffCentrePlace;
    readonly difference: number;
    readonly u: number;
    readonly dof: number;
    /** Reading less mass applied, kg. */
    readonly error: number;
  }[];
  /** The difference that is largest in size, kg, and whether it stands out of the scatter. */
  readonly largest: number;
  readonly isSeen: boolean;
  /** Last reading of the middle less the first, kg; null where it was read once. */
  readonly drift: number | null;
  /** Change of the reading as the load moves ahead and to the left, kg per metre. */
  readonly perMetre: { readonly ahead: number; readonly left: number };
  /** Largest difference and load as an uncertainty budget takes them. */
  readonly testLoad: number;
  readonly outcome: 'within' | 'outside' | 'not judged';
}

export type OffCentreOutcome =
  | { readonly ok: true; readonly found: OffCentreFound }
  | { readonly ok: false; readonly missing: readonly OffCentrePlace[] };

/** Evaluates the test; the places not yet read where some are missing. Throws RangeError on no mass. */
export const offCentre = ({
  readings,
  mass,
  distance,
  against,
}: OffCentreTest): OffCentreOutcome => {
  if (!(mass > 0) || !(distance > 0))
    throw new RangeError(`not a test: ${mass} kg, ${distance} m from the middle`);
  const at = (place: OffCentrePlace): readonly Measured[] =>
    readings.filter((reading) => reading.place === place).map(({ read }) => read);
  const missing = OFF_CENTRE_PLACES.filter((place) => at(place).length === 0);
  if (missing.length > 0) return { ok: false, missing };

  const scatter = scatterOf(OFF_CENTRE_PLACES.map(at));
  const mean = (place: OffCentrePlace): Measured => {
    const all = at(place);
    const own = Math.hypot(...all.map(({ u }) => u)) / all.length;
    const placed = scatter.sd / Math.sqrt(all.length);
    const ownDof = effectiveDof(all);
    return measured(
      moments(all.map(({ value }) => value)).mean,
      Math.max(own, placed),
      placed > own ? scatter.dof : ownDof,
    );
  };
  const middle = mean('middle');
  const places = OFF_CENTRE_PLACES.filter((place) => place !== 'middle').map((place) => {
    const there = mean(place);
    return {
      place,
      difference: there.value - middle.value,
      u: Math.hypot(there.u, middle.u),
      dof: Math.max(1, Math.min(there.dof, middle.dof)),
      error: there.value - mass,
    };
  });
  const worst = places.reduce((a, b) => (Math.abs(b.difference) > Math.abs(a.difference) ? b : a));
  const differenceAt = (place: OffCentrePlace): number =>
    places.find((each) => each.place === place)?.difference ?? 0;
  const middles = at('middle');
  const limit = against && limitAt(against, mass);
  return {
    ok: true,
    found: {
      places,
      largest: worst.difference,
      // The largest of four: each is tested at a quarter of 5 % (Bonferroni).
      isSeen: Math.abs(worst.difference) > studentT(0.05 / 4, worst.dof) * worst.u,
      drift:
        middles.length > 1
          ? (middles.at(-1) as Measured).value - (middles[0] as Measured).value
          : null,
      perMetre: {
        ahead: (differenceAt('front') - differenceAt('rear')) / (2 * distance),
        left: (differenceAt('left') - differenceAt('right')) / (2 * distance),
      },
      testLoad: mass,
      outcome:
        against === null
          ? 'not judged'
          : limit !== null &&
              [middle.value - mass, ...places.map(({ error }) => error)].every(
                (error) => Math.abs(error) <= limit,
              )
            ? 'within'
            : 'outside',
    },
  };
};

/** Scatter of readings at one place, pooled; where none was read twice, nothing beyond their own u. */
const scatterOf = (
  places: readonly (readonly Measured[])[],
): { readonly sd: number; readonly dof: number } => {
  let squares = 0;
  let dof = 0;
  for (const all of places) {
    if (all.length < 2) continue;
    squares += moments(all.map(({ value }) => value)).sd ** 2 * (all.length - 1);
    dof += all.length - 1;
  }
  return dof > 0 ? { sd: Math.sqrt(squares / dof), dof } : { sd: 0, dof: Infinity };
};
