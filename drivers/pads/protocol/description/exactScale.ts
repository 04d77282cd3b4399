/**
 * Scales of pad descriptions as exact fractions. A scale is written as decimal text ("0.005") or as
 * a fraction ("1/3"); a double never stands between what a pad sent and what a check compares.
 */

/** A positive fraction in lowest terms. */
export interface Fraction {
  readonly num: bigint;
  readonly den: bigint;
}

export const LOAD_UNITS = ['kg', 'g', 'lb', 'N', 'counts'] as const;
/** The units in which a pad may send a load; `counts` are the converter's own. */
export type LoadUnit = (typeof LOAD_UNITS)[number];

const gcd = (a: bigint, b: bigint): bigint => (b === 0n ? a : gcd(b, a % b));

const reduced = (num: bigint, den: bigint): Fraction => {
  const common = gcd(num, den);
  return { num: num / common, den: den / common };
};

/** Reads a positive decimal or fraction; null where the text is neither, or zero. */
export const parseFraction = (text: string): Fraction | null => {
  const decimal = /^(\d{1,12})(?:\.(\d{1,12}))?$/.exec(text);
  const ratio = /^(\d{1,12})\/(\d{1,12})$/.exec(text);
  let num: bigint;
  let den: bigint;
  if (decimal) {
    const places = decimal[2] ?? '';
    num = BigInt(`${decimal[1]}${places}`);
    den = 10n ** BigInt(places.length);
  } else if (ratio) {
    num = BigInt(ratio[1] ?? '0');
    den = BigInt(ratio[2] ?? '0');
  } else return null;
  return num === 0n || den === 0n ? null : reduced(num, den);
};

export const times = (a: Fraction, b: Fraction): Fraction => reduced(a.num * b.num, a.den * b.den);

/** The double nearest to a fraction whose two parts are below 2⁵³. */
export const asNumber = ({ num, den }: Fraction): number => Number(num) / Number(den);

/**
 * What one unit is in a pad's counts. Counts of a pad that sends masses are milligrams; of one that
 * sends forces, the milligrams that make the force under standard gravity 9.80665 m/s² (exact, 3rd
 * CGPM). The pound is exact: NIST SP 811 appendix B.8.
 */
export const COUNTS_PER_UNIT: Readonly<Record<LoadUnit, Fraction>> = {
  kg: { num: 1_000_000n, den: 1n },
  g: { num: 1000n, den: 1n },
  lb: { num: 45_359_237n, den: 100n },
  N: reduced(100_000_000_000n, 980_665n),
  counts: { num: 1n, den: 1n },
};

/** Rounds a whole number times a fraction to the nearest, a half up. Exact for any size. */
export const roundTimes = (raw: number, { num, den }: Fraction): number => {
  const twice = 2n * BigInt(raw) * num + den;
  const by = 2n * den;
  const rest = ((twice % by) + by) % by;
  return Number((twice - rest) / by);
};

/**
 * Makes `roundTimes` for one fraction and raw numbers up to `most` in size: in doubles where every
 * step of it is exact there, which is the same and ten times as fast.
 */
export const createRounding = (by: Fraction, most: number): ((raw: number) => number) => {
  if (2n * BigInt(most) * by.num + by.den > BigInt(Number.MAX_SAFE_INTEGER))
    return (raw) => roundTimes(raw, by);
  const twiceNum = Number(2n * by.num);
  const den = Number(by.den);
  const twiceDen = 2 * den;
  return (raw) => {
    const twice = raw * twiceNum + den;
    const rest = twice % twiceDen;
    return (twice - (rest < 0 ? rest + twiceDen : rest)) / twiceDen;
  };
};

/** A whole number times a fraction as exact text: a decimal where it ends, else a fraction. */
export const exactTimes = (raw: number, by: Fraction): string => {
  const sign = raw < 0 ? '-' : '';
  const { num, den } = reduced(BigInt(Math.abs(raw)) * by.num, by.den);
  let rest = den;
  let twos = 0;
  let fives = 0;
  for (; rest % 2n === 0n; rest /= 2n) twos++;
  for (; rest % 5n === 0n; rest /= 5n) fives++;
  if (rest !== 1n) return `${sign}${num}/${den}`;
  const places = Math.max(twos, fives);
  const digits = ((num * 10n ** BigInt(places)) / den).toString().padStart(places + 1, '0');
  return places === 0
    ? `${sign}${digits}`
    : `${sign}${digits.slice(0, -places)}.${digits.slice(-places)}`;
};
