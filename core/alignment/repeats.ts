import { measured, type Measured } from '../measured.ts';
import { effectiveDof, type Part } from '../uncertainty/combine.ts';
import { found, refused, type Outcome } from './outcome.ts';

/** What is known beforehand of readings taken with one gauge or scale. */
export interface ReadingScatter {
  /** Scatter of one reading, which repeats average out. */
  readonly single: Part;
  /** What all readings share, which they do not: the gauge's own error. */
  readonly shared: Part;
}

/** A repeat this many scatters off the mean is named; beyond it lies one sound reading in 16,000. */
const STRAY = 4;

/**
 * Mean of the repeats of one measurement. The scatter known beforehand and the one seen are pooled by
 * their degrees of freedom (JCGM 100:2008, 4.2.4), so that one reading has an uncertainty and
 * two that agree by chance have no false certainty.
 */
export const meanOfRepeats = (
  readings: readonly number[],
  { single, shared }: ReadingScatter,
): Outcome<Measured> => {
  const n = readings.length;
  if (n === 0) return refused('There is no reading.', 'Type at least one.');
  if (!readings.every(Number.isFinite)) return refused('A reading is no number.', 'Type it again.');
  const mean = readings.reduce((sum, reading) => sum + reading, 0) / n;
  const squares = readings.reduce((sum, reading) => sum + (reading - mean) ** 2, 0);
  const dof = single.dof + n - 1;
  const variance =
    single.dof === Infinity ? single.u ** 2 : (single.dof * single.u ** 2 + squares) / dof;
  const parts = [{ u: Math.sqrt(variance / n), dof }, shared];
  const stray = single.u > 0 && readings.some((each) => Math.abs(each - mean) > STRAY * single.u);
  return found(
    measured(mean, Math.hypot(...parts.map(({ u }) => u)), effectiveDof(parts)),
    stray ? ['The repeats disagree by more than this gauge scatters: read once more.'] : [],
  );
};
