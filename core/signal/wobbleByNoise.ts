import { SIXTHS } from './windowCheck.ts';

/**
 * The peak to peak of six normal means is below 5 of their standard deviations in 99.5 % (studentised
 * range, six groups: H. L. Harter, Ann. Math. Stat. 31 (1960) 1122).
 */
const RANGE_OF_SIX = 5;

/**
 * How far noise alone drives the means of a window's sixths apart, for `count` values from index
 * `start`; in their unit.
 *
 * The noise comes from second differences, six times the variance of white noise (after J. von
 * Neumann, Ann. Math. Stat. 12 (1941) 367, who took first ones: a rocking of 5 Hz still shows in
 * those), in which slow motion has no part. Values that an oversampled converter repeats count once, so
 * that they do not make the noise look lower than it is.
 */
export const wobbleByNoise = (values: Float64Array, start: number, count: number): number => {
  let distinct = 0;
  let bends = 0;
  let before = NaN;
  let twoBefore = NaN;
  for (let i = start; i < start + count; i += 1) {
    const value = values[i] as number;
    if (value === before) continue;
    if (distinct >= 2) bends += (value - 2 * before + twoBefore) ** 2;
    distinct += 1;
    twoBefore = before;
    before = value;
  }
  const variance = distinct > 2 ? bends / (6 * (distinct - 2)) : 0;
  return RANGE_OF_SIX * Math.sqrt((variance * SIXTHS) / Math.max(SIXTHS, distinct));
};
