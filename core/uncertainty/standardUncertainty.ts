/** What is believed of a quantity whose standard uncertainty is stated. */
const DISTRIBUTIONS = ['normal', 'rectangular', 'triangular', 'arcsine', 't'] as const;
export type Distribution = (typeof DISTRIBUTIONS)[number];

/** Bounded distributions: half width over standard deviation (JCGM 100:2008, 4.3.7, 4.3.9; H.1.3.4). */
const DIVISORS: Readonly<Record<'rectangular' | 'triangular' | 'arcsine', number>> = {
  rectangular: Math.sqrt(3),
  triangular: Math.sqrt(6),
  arcsine: Math.SQRT2,
};

const checked = (value: number, what: string): number => {
  if (!(value >= 0) || value === Infinity) throw new RangeError(`not ${what}: ${value}`);
  return value;
};

/** Standard uncertainty of a quantity that lies within ± `halfWidth`, nothing else being known. */
export const fromHalfWidth = (
  halfWidth: number,
  distribution: 'rectangular' | 'triangular' | 'arcsine',
): number => checked(halfWidth, 'a half width') / DIVISORS[distribution];

/** Standard uncertainty from an expanded one of a certificate and its coverage factor (4.3.3). */
export const fromExpanded = (expanded: number, coverageFactor: number): number => {
  if (!(coverageFactor > 0)) throw new RangeError(`not a coverage factor: ${coverageFactor}`);
  return checked(expanded, 'an expanded uncertainty') / coverageFactor;
};

/** Standard uncertainty of a number shown or sent in steps of `step`: step/√12 (F.2.2.1). */
export const fromResolution = (step: number): number =>
  fromHalfWidth(checked(step, 'a step') / 2, 'rectangular');

/**
 * Degrees of freedom of a judgement: ν = ½·(Δu/u)⁻², `doubt` being how far u itself is doubted, as a
 * share of it (G.4.2, equation G.3). A quarter makes 8; none makes Infinity.
 */
export const dofOfJudgement = (doubt: number): number =>
  checked(doubt, 'a doubt') === 0 ? Infinity : 0.5 / doubt ** 2;
