import { measured, type Measured } from '../measured.ts';
import { moments } from '../signal/moments.ts';
import { studentT } from '../signal/studentT.ts';
import { fTail } from '../statistics/fDistribution.ts';
import { linearModel } from '../statistics/linearModel.ts';

/** A zero (newton) or a span check (relative error) with the pad's temperature. */
export interface TemperaturePoint {
  /** Seconds; only differences are used. */
  readonly at: number;
  readonly value: number;
  /** °C; null where the pad does not say. */
  readonly temperature: number | null;
}

export type TemperatureEffect =
  | {
      readonly supported: true;
      /** Unit of the values per kelvin. */
      readonly perKelvin: Measured;
      /** Change per second that was fitted beside it, or null with too few points for that. */
      readonly drift: Measured | null;
      /** Probability of so large a slope by chance. */
      readonly p: number;
      /** Mean temperature of the points, °C, and the range: outside it the slope is not known. */
      readonly about: number;
      readonly lowest: number;
      readonly highest: number;
    }
  | {
      readonly supported: false;
      /** Why the data do not support an estimate, and what would. */
      readonly why: readonly TemperatureLack[];
      /** What was found all the same, where it could be computed: never to be applied. */
      readonly bound: Measured | null;
    };

export type TemperatureLack =
  | { readonly lack: 'points'; readonly have: number; readonly need: number }
  | { readonly lack: 'range'; readonly haveKelvin: number; readonly needKelvin: number }
  /** Warm and late came together: correlation of temperature and time. */
  | { readonly lack: 'apart from time'; readonly correlation: number }
  /** Not significant; a range as wide as this, or so many points, would show the slope found. */
  | {
      readonly lack: 'significance';
      readonly p: number;
      readonly rangeNeeded: number | null;
      readonly pointsNeeded: number | null;
    };

/** Points for a plane of three coefficients and a scatter; common practice, no source. */
const FEWEST = 8;
/** The step in which OIML R 60:2021 judges zero against temperature, classes B to D. */
const LEAST_RANGE = 5;
/** Above this less than a fifth of the temperature's variance is its own. */
const MOST_CORRELATION = 0.9;
const BELIEVED = 0.05;

const correlation = (a: readonly number[], b: readonly number[]): number => {
  const [ma, mb] = [moments(a), moments(b)];
  const sum = a.reduce((total, x, i) => total + (x - ma.mean) * ((b[i] as number) - mb.mean), 0);
  return ma.sd > 0 && mb.sd > 0 ? sum / ((a.length - 1) * ma.sd * mb.sd) : 0;
};

/**
 * Correlation of neighbours, not below zero, made whole for what fitting takes out of it: 1 + 4r for a
 * mean (M. G. Kendall, Biometrika 41 (1954) 403), 2 + 4r with a slope, over n.
 */
const serial = (values: readonly number[], fitted: number): number => {
  const { lag1, count } = moments(values);
  if (!Number.isFinite(lag1)) return 0;
  return Math.min(0.98, Math.max(0, lag1 + ((fitted > 1 ? 2 : 1) + 4 * lag1) / count));
};

/**
 * Effect of temperature on a zero or a span, from history, with a straight drift in time fitted beside
 * it. Given only when the data support it: enough points, over 5 K or more, temperature not merely a
 * clock, and a slope that stands out of its scatter at 5 % with serial correlation allowed for:
 * effective points n·(1 − r)/(1 + r), r the product of that of the residuals and that of the
 * temperature (M. S. Bartlett, J. R. Stat. Soc. 98 (1935) 536). Else it says what is lacking and what
 * would do.
 */
export const temperatureEffect = (points: readonly TemperaturePoint[]): TemperatureEffect => {
  const known = points
    .flatMap(({ at, value, temperature }) =>
      temperature === null ? [] : [{ at, value, temperature }],
    )
    .sort((a, b) => a.at - b.at);
  const temperatures = known.map(({ temperature }) => temperature);
  const lowest = Math.min(...temperatures);
  const highest = Math.max(...temperatures);
  const why: TemperatureLack[] = [];
  if (known.length < FEWEST) why.push({ lack: 'points', have: known.length, need: FEWEST });
  const range = known.length > 0 ? highest - lowest : 0;
  if (range < LEAST_RANGE) why.push({ lack: 'range', haveKelvin: range, needKelvin: LEAST_RANGE });
  const about = known.length > 0 ? moments(temperatures).mean : 0;
  const times = known.map(({ at }) => at);
  const meanTime = known.length > 0 ? moments(times).mean : 0;
  const withTime = new Set(times).size > 1;
  const clock = known.length > 2 ? correlation(temperatures, times) : 0;
  if (Math.abs(clock) > MOST_CORRELATION) why.push({ lack: 'apart from time', correlation: clock });

  const fit = linearModel(
    known.map(({ at, temperature }) => [
      1,
      temperature - about,
      ...(withTime ? [at - meanTime] : []),
    ]),
    known.map(({ value }) => value),
  );
  if (!fit) return { supported: false, why, bound: null };
  // Neighbours in time that agree, in residuals and temperature both, count for less than they seem.
  const r = Math.min(
    0.95,
    serial(fit.residuals, fit.coefficients.length) * serial(temperatures, 1),
  );
  const inflate = Math.sqrt((1 + r) / (1 - r));
  const dof = Math.max(1, (fit.dof * (1 - r)) / (1 + r));
  const coefficient = (index: number): Measured =>
    measured(
      fit.coefficients[index] as number,
      inflate * Math.sqrt(Math.max(0, fit.covariance[index]?.[index] ?? NaN)),
      dof,
    );
  const perKelvin = coefficient(1);
  const p = perKelvin.u > 0 ? fTail((perKelvin.value / perKelvin.u) ** 2, 1, dof) : 0;
  if (p >= BELIEVED) {
    const reach = studentT(BELIEVED, dof) * perKelvin.u;
    const times2 = perKelvin.value !== 0 ? reach / Math.abs(perKelvin.value) : Infinity;
    why.push({
      lack: 'significance',
      p,
      rangeNeeded: Number.isFinite(times2) ? range * times2 : null,
      pointsNeeded: Number.isFinite(times2) ? Math.ceil(known.length * times2 ** 2) : null,
    });
  }
  if (why.length > 0) return { supported: false, why, bound: perKelvin };
  return {
    supported: true,
    perKelvin,
    drift: withTime ? coefficient(2) : null,
    p,
    about,
    lowest,
    highest,
  };
};
