import { measured, type Measured } from '../measured.ts';
import { fTail } from '../statistics/fDistribution.ts';
import { varianceCombination, type VarianceEstimate } from '../statistics/varianceCombination.ts';
import { byEvent, checkPairs, type PairFinding } from './checkPairs.ts';
import { eventScatter, pooled, type EventScatter, type MeanSquare } from './eventScatter.ts';
import { outlyingEvents, outlyingPairs } from './outliers.ts';
import {
  difference,
  massBetween,
  otherState,
  type BothStates,
  type ItemKind,
  type Pair,
} from './pair.ts';
import type { Prediction } from './prediction.ts';
import { trend, trendAt, type Trend } from './trend.ts';

/** A pair as it was used. */
export interface UsedPair {
  readonly pair: Pair;
  /** Theirs less ours, at the gravity of the place and in their state. */
  readonly difference: number;
  /** Stands out; it is computed with all the same. */
  readonly outlier: 'event' | 'pair' | null;
}

/** Their readings against ours, for one authority and one item. */
export interface Offset {
  readonly ok: true;
  readonly used: readonly UsedPair[];
  readonly leftOut: readonly { readonly pair: string; readonly why: string }[];
  readonly findings: readonly PairFinding[];
  /** States that were not checked, and what else must be known beside the numbers. */
  readonly notes: readonly string[];
  readonly scatter: EventScatter;
  /** Mean of the event means; null for one event, whose bias stands alone. */
  readonly mean: Measured | null;
  /** Scatter between and within events, as standard deviations; null where there is nothing to tell. */
  readonly between: VarianceEstimate | null;
  readonly within: VarianceEstimate | null;
  readonly trend: Trend | null;
  /** Probability of events so much further apart than at the other authorities by chance; null without. */
  readonly poolAgrees: number | null;
  readonly prediction: Prediction;
}

/** Why pairs give no prediction, and what to do. */
export interface NoOffset {
  readonly ok: false;
  readonly why: string;
  readonly findings: readonly PairFinding[];
  readonly leftOut: Offset['leftOut'];
}

export interface OffsetInput {
  readonly kind: ItemKind;
  readonly pairs: readonly Pair[];
  /** The car for which their next reading is wanted; null takes every pair. */
  readonly next: BothStates | null;
  /** Step of their display, in the item's unit; null where not known. */
  readonly theirStep: number | null;
  /** Follow the trend to a day instead of taking the mean; null for the mean. */
  readonly followTo: number | null;
  /** Scatter of other authorities, to be taken as alike; empty for none. */
  readonly poolWith: readonly EventScatter[];
}

const sd = (parts: readonly { coefficient: number; meanSquare: MeanSquare }[]): VarianceEstimate =>
  varianceCombination(
    parts.map(({ coefficient, meanSquare }) => ({
      coefficient,
      meanSquare: meanSquare.value,
      dof: meanSquare.dof,
    })),
  );

/**
 * Mean square of the event means with those of other authorities, brought to the same number of pairs
 * an event: they have σ_b² + c·σ_w², each its own c.
 */
const pooledBetween = (
  own: EventScatter,
  others: readonly EventScatter[],
): { readonly meanSquare: MeanSquare | null; readonly count: number } => {
  const all = [own, ...others].filter(({ between }) => between !== null);
  const dof = all.reduce((sum, { between }) => sum + (between?.dof ?? 0), 0);
  return {
    meanSquare: pooled(all.map(({ between }) => between)),
    count: all.reduce((sum, s) => sum + (s.between?.dof ?? 0) * s.inverseCount, 0) / dof,
  };
};

const predict = (
  scatter: EventScatter,
  line: Trend | null,
  { followTo, poolWith, theirStep }: OffsetInput,
): Prediction | string => {
  const within = pooled([scatter.within, ...poolWith.map((other) => other.within)]);
  const followed = followTo === null || !line ? null : trendAt(line, followTo);
  if (followTo !== null && !followed)
    return 'A trend takes three events on different days. Take the mean.';
  const lone = { meanSquare: scatter.between, count: scatter.inverseCount };
  const onLine = line ? { value: line.meanSquare, dof: line.dof } : null;
  const { meanSquare, count } = followed
    ? { meanSquare: onLine, count: scatter.inverseCount }
    : poolWith.length > 0
      ? pooledBetween(scatter, poolWith)
      : lone;
  if (!meanSquare)
    return 'One event says nothing of how much events differ. Add pairs of another event, take the scatter of other scrutineers, or state what is known of their equipment.';
  // A display hides what is finer than its step: JCGM 100:2008, F.2.2.1.
  const least = theirStep === null ? 0 : theirStep ** 2 / 12;
  const factor = 1 + (followed?.leverage ?? 1 / scatter.events);
  const c = scatter.inverseCount;
  // σ_b² + σ_w² and the variance of the mean, in mean squares; less than nothing is left out.
  const share = Math.max(0, factor * (c - count) + 1 - c);
  const between = factor * Math.max(meanSquare.value, least);
  const added = share * (within?.value ?? 0);
  if (!(between + added > 0))
    return 'These pairs do not scatter at all, which no two scales do. Say the step of their display.';
  return {
    shift: followed?.value ?? scatter.mean,
    between,
    dof: meanSquare.dof,
    within: added,
    limit: 0,
  };
};

/**
 * Mean difference of an authority's readings from ours, its scatter between and within events, its
 * trend, and the prediction of their next one. Events count: each mean once. Method of moments on the
 * event means, since its two mean squares enter the variance of a next reading (σ_b² + σ_w² + variance
 * of the mean) with positive factors: no component is ever below zero or set to zero, as restricted
 * likelihood does half of the time for few events of no bias. Prediction as in `marginAt`.
 *
 * Pairs whose units are mixed up or whose state is another are left out and named; outliers are marked
 * and kept. `next` also corrects nothing of ours: the caller adds `massBetween` to a total.
 */
export const offset = (input: OffsetInput): Offset | NoOffset => {
  const { kind, pairs, next, poolWith } = input;
  const findings = checkPairs(kind, pairs);
  const wrong = new Map(findings.filter(({ sure }) => sure).map(({ pair, text }) => [pair, text]));
  const leftOut = pairs.flatMap((pair) => {
    const why = wrong.get(pair.id) ?? otherState(kind, pair, next);
    return why === null ? [] : [{ pair: pair.id, why }];
  });
  const left = new Set(leftOut.map(({ pair }) => pair));
  const used = pairs.filter(({ id }) => !left.has(id));
  if (used.length === 0)
    return {
      ok: false,
      why:
        pairs.length === 0
          ? 'No pair yet. State what is known of their equipment, or its limits.'
          : 'No pair can be used. See what is wrong with each.',
      findings,
      leftOut,
    };
  const { events, differences } = byEvent(kind, used);
  const scatter = eventScatter(differences);
  const line = trend(
    events.map((event) => {
      const days = event.map(({ day }) => day);
      return days.some((day) => day === null)
        ? null
        : days.reduce<number>((sum, day) => sum + (day ?? 0), 0) / days.length;
    }),
    scatter.means,
  );
  const prediction = predict(scatter, line, input);
  if (typeof prediction === 'string') return { ok: false, why: prediction, findings, leftOut };
  const outEvents = outlyingEvents(scatter.means);
  const outPairs = outlyingPairs(differences);
  const { between, within, inverseCount } = scatter;
  const others = pooledBetween({ ...scatter, between: null }, poolWith).meanSquare;
  return {
    ok: true,
    used: events.flatMap((event, i) =>
      event.map((pair, j) => ({
        pair,
        difference: difference(kind, pair),
        outlier: outPairs[i]?.[j] ? 'pair' : outEvents[i] ? 'event' : null,
      })),
    ),
    leftOut,
    findings,
    notes: used
      .filter(({ states }) => kind === 'total' && massBetween(states) === null)
      .map(({ label }) => `${label}: seat or fuel not checked, not corrected.`),
    scatter,
    mean: between
      ? measured(scatter.mean, Math.sqrt(between.value / scatter.events), between.dof)
      : null,
    between:
      between &&
      sd([
        { coefficient: 1, meanSquare: between },
        ...(within ? [{ coefficient: -inverseCount, meanSquare: within }] : []),
      ]),
    within: within && sd([{ coefficient: 1, meanSquare: within }]),
    trend: line,
    poolAgrees:
      between && others && others.value > 0
        ? fTail(between.value / others.value, between.dof, others.dof)
        : null,
    prediction,
  };
};
