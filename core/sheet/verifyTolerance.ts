import { verifiable, type Verifiable } from '../compare/verifiable.ts';
import type { LoweringScatter } from '../compare/repeatabilityLowering.ts';
import { CORNERS } from '../corners.ts';
import type { Part } from '../uncertainty/combine.ts';
import { effectiveDof } from '../uncertainty/combine.ts';
import { fromResolution } from '../uncertainty/standardUncertainty.ts';
import type { Gauge } from './carRecord.ts';
import type { Item } from './items.ts';
import { targetOf, type SetUpSheet } from './setUpSheet.ts';
import { throughTie, type Tie } from './ties.ts';

/** Whether a tolerance of a sheet can be verified with what the crew owns, or why that is not known. */
export type ToleranceVerified =
  | { readonly is: 'known'; readonly verifiable: Verifiable }
  | { readonly is: 'not known'; readonly why: string };

/** What the crew's measuring is known to scatter by. */
export interface OwnScatter {
  /** Of lowering the unchanged car, from a study; null without one. */
  readonly lowering: LoweringScatter | null;
  /** What laying the patch again adds; null while no study told it: then it counts for one patch only. */
  readonly laying: LoweringScatter | null;
  /** What an item is read with; null where nobody has said. */
  readonly gauge: (item: Item) => Gauge | null;
}

interface Scatter {
  readonly repeat: Part;
  readonly laying: Part | null;
}

const NO_STUDY = 'Not known: lower the unchanged car several times, under Balance, Outing.';

const ofWeights = (
  weights: ReadonlyMap<string, number>,
  { lowering, laying }: OwnScatter,
): Scatter | string => {
  if (!lowering) return NO_STUDY;
  const slopes = CORNERS.map((corner) => weights.get(`weight.${corner}`) ?? 0);
  const spread = ({ covariance, dof }: LoweringScatter): Part => {
    const variance = slopes.reduce(
      (sum, one, i) =>
        sum + slopes.reduce((row, other, j) => row + one * other * (covariance[4 * i + j] ?? 0), 0),
      0,
    );
    return { u: Math.sqrt(Math.max(0, variance)), dof };
  };
  return { repeat: spread(lowering), laying: laying && spread(laying) };
};

const ofGauge = (gauge: Gauge | null): Part | string => {
  if (!gauge) return 'Not known: say what it is read with.';
  if (!gauge.scatter)
    return `Not known: the scatter of ${gauge.name}. Read one thing ten times and enter it there.`;
  const step = fromResolution(gauge.resolution);
  return gauge.scatter.u > step ? gauge.scatter : { u: step, dof: Infinity };
};

const isWeight = (id: string): boolean => id.startsWith('weight.');

const scatterOf = (
  item: Item,
  about: {
    readonly sheet: SetUpSheet;
    readonly items: ReadonlyMap<string, Item>;
    readonly ties: readonly Tie[];
    readonly own: OwnScatter;
  },
): Scatter | string => {
  const { sheet, items, ties, own } = about;
  if (isWeight(item.id)) return ofWeights(new Map([[item.id, 1]]), own);
  const tie = ties.find((each) => each.item === item.id);
  if (!tie) {
    const part = ofGauge(own.gauge(item));
    return typeof part === 'string' ? part : { repeat: part, laying: null };
  }
  const through = throughTie(tie, (id) => targetOf(sheet, id));
  // A plain sum has the same slopes whatever its parts are.
  const slopes =
    through?.slopes ??
    (tie.over.length === 0
      ? new Map(tie.of.map(({ item: id, weight }) => [id, weight] as const))
      : null);
  if (!slopes) return `Not known: give targets for ${tie.words}.`;
  if (tie.of.some(({ item: id }) => isWeight(id))) return ofWeights(slopes, own);
  const parts: Part[] = [];
  for (const [id, slope] of slopes) {
    const from = items.get(id);
    const part = from ? ofGauge(own.gauge(from)) : 'Not known: its parts are not of this car.';
    if (typeof part === 'string') return part;
    parts.push({ u: Math.abs(slope) * part.u, dof: part.dof });
  }
  return {
    repeat: { u: Math.hypot(...parts.map(({ u }) => u)), dof: effectiveDof(parts) },
    laying: null,
  };
};

/**
 * Whether a change as small as the tolerance of an item can be told from none when set-up and set-down
 * are one reading each: from the study of lowerings for what the pads say, from the gauges for what is
 * read by hand, and through the ties for what follows from others. Null without a tolerance.
 */
export const verifyTolerance = (
  item: Item,
  about: {
    readonly tolerance: number | null;
    readonly sheet: SetUpSheet;
    readonly items: ReadonlyMap<string, Item>;
    readonly ties: readonly Tie[];
    readonly own: OwnScatter;
  },
): ToleranceVerified | null => {
  const { tolerance } = about;
  if (tolerance === null) return null;
  if (item.from === 'stated') return null;
  const scatter = scatterOf(item, about);
  if (typeof scatter === 'string') return { is: 'not known', why: scatter };
  if (!(scatter.repeat.u > 0)) return { is: 'not known', why: 'Not known: no scatter was seen.' };
  return {
    is: 'known',
    verifiable: verifiable({ limit: tolerance, ...scatter, unshared: 0, readings: 1 }),
  };
};
