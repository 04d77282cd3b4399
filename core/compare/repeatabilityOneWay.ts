import { oneWayAnova, type OneWayAnova } from '../statistics/oneWayAnova.ts';
import { varianceCombination, type VarianceEstimate } from '../statistics/varianceCombination.ts';

/** Components of variance of readings taken in groups. */
export interface RepeatabilityOneWay {
  readonly anova: OneWayAnova;
  /** Scatter within a group: the same people, patch and day. */
  readonly repeatability: VarianceEstimate;
  /** What a new group adds. */
  readonly between: VarianceEstimate;
  /** Scatter of single readings from different groups: intermediate precision. */
  readonly intermediate: VarianceEstimate;
}

/**
 * Repeatability and intermediate precision by one-way analysis of variance: s²_L = (MS_between −
 * MS_within)/n, s²_I = s²_r + s²_L, with n the mean group size for unequal groups, for which the
 * intervals are approximate (ISO 5725-2:2019, 7.4; JCGM 100:2008, H.5). Null as `oneWayAnova`.
 */
export const repeatabilityOneWay = (
  groups: readonly (readonly number[])[],
): RepeatabilityOneWay | null => {
  const anova = oneWayAnova(groups);
  if (!anova) return null;
  const { between, within, perGroup: n } = anova;
  return {
    anova,
    repeatability: varianceCombination([{ ...within, coefficient: 1 }]),
    between: varianceCombination([
      { ...between, coefficient: 1 / n },
      { ...within, coefficient: -1 / n },
    ]),
    intermediate: varianceCombination([
      { ...between, coefficient: 1 / n },
      { ...within, coefficient: 1 - 1 / n },
    ]),
  };
};
