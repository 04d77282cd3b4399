import { moments } from '../signal/moments.ts';
import { fTail } from '../statistics/fDistribution.ts';
import {
  varianceCombination,
  type VarianceEstimate,
  type WeightedMeanSquare,
} from '../statistics/varianceCombination.ts';

interface Line {
  readonly squares: number;
  readonly dof: number;
  readonly meanSquare: number;
}

/** Crossed study: every person measures every part equally often. */
export interface RepeatabilityCrossed {
  readonly part: Line;
  readonly person: Line;
  readonly interaction: Line;
  readonly repeat: Line;
  /** Of part and person against the interaction, and of the interaction against the repeats. */
  readonly f: { readonly part: number; readonly person: number; readonly interaction: number };
  readonly pInteraction: number;
  /** Whether the interaction was taken together with the repeats, being no larger than they. */
  readonly pooled: boolean;
  /** Repeats with the interaction where pooled, else alone. */
  readonly error: Line;
  readonly repeatability: VarianceEstimate;
  /** Persons, and their interaction with the parts. */
  readonly reproducibility: VarianceEstimate;
  /** Both together. */
  readonly gauge: VarianceEstimate;
  readonly parts: VarianceEstimate;
  readonly total: VarianceEstimate;
  /** Distinct categories ⌊1.41·parts/gauge⌋; Infinity where the gauge does not scatter. */
  readonly categories: number;
}

export type CrossedOutcome =
  | { readonly ok: true; readonly study: RepeatabilityCrossed }
  | { readonly ok: false; readonly why: 'unequal numbers' | 'too few parts, persons or repeats' };

/**
 * Gauge study by analysis of variance (AIAG, Measurement Systems Analysis, 4th ed., III-B). Readings as
 * [part][person][repeat], equally many everywhere. The interaction is pooled with the repeats where its
 * p is above `poolAbove` (0.25 by common practice: pooling sooner makes the error look smaller than it
 * is). A component that comes out below zero counts as zero in the gauge and the total.
 */
export const repeatabilityCrossed = (
  readings: readonly (readonly (readonly number[])[])[],
  poolAbove: number,
): CrossedOutcome => {
  const parts = readings.length;
  const persons = readings[0]?.length ?? 0;
  const repeats = readings[0]?.[0]?.length ?? 0;
  if (parts < 2 || persons < 2 || repeats < 2)
    return { ok: false, why: 'too few parts, persons or repeats' };
  if (readings.some((row) => row.length !== persons || row.some((c) => c.length !== repeats)))
    return { ok: false, why: 'unequal numbers' };

  const origin = readings[0]?.[0]?.[0] as number;
  const cells = readings.map((row) => row.map((cell) => cell.map((value) => value - origin)));
  const mean = (values: readonly number[]): number => moments(values).mean;
  const grand = mean(cells.flat(2));
  const partMeans = cells.map((row) => mean(row.flat()));
  const personMeans = Array.from({ length: persons }, (_, j) =>
    mean(cells.flatMap((row) => row[j] as number[])),
  );
  let interactionSquares = 0;
  let repeatSquares = 0;
  for (const [i, row] of cells.entries())
    for (const [j, cell] of row.entries()) {
      const own = mean(cell);
      const alone = own - (partMeans[i] as number) - (personMeans[j] as number) + grand;
      interactionSquares += repeats * alone ** 2;
      for (const value of cell) repeatSquares += (value - own) ** 2;
    }
  const line = (squares: number, dof: number): Line => ({
    squares,
    dof,
    meanSquare: squares / dof,
  });
  const about = (means: readonly number[]): number =>
    means.reduce((sum, each) => sum + (each - grand) ** 2, 0);
  const part = line(persons * repeats * about(partMeans), parts - 1);
  const person = line(parts * repeats * about(personMeans), persons - 1);
  const interaction = line(interactionSquares, (parts - 1) * (persons - 1));
  const repeat = line(repeatSquares, parts * persons * (repeats - 1));

  const f = {
    part: part.meanSquare / interaction.meanSquare,
    person: person.meanSquare / interaction.meanSquare,
    interaction: interaction.meanSquare / repeat.meanSquare,
  };
  const pInteraction = Number.isNaN(f.interaction)
    ? 1
    : fTail(f.interaction, interaction.dof, repeat.dof);
  const pooled = pInteraction > poolAbove;
  const error = pooled
    ? line(interaction.squares + repeat.squares, interaction.dof + repeat.dof)
    : repeat;
  /** What person and part are held against. */
  const under = pooled ? error : interaction;
  const combine = (...terms: readonly (readonly [Line, number])[]): VarianceEstimate => {
    const weights = new Map<Line, number>();
    for (const [each, weight] of terms) weights.set(each, (weights.get(each) ?? 0) + weight);
    const list: WeightedMeanSquare[] = [...weights].map(([each, coefficient]) => ({
      coefficient,
      meanSquare: each.meanSquare,
      dof: each.dof,
    }));
    return varianceCombination(list);
  };

  type Terms = readonly (readonly [Line, number])[];
  const positive = (terms: Terms): Terms =>
    terms.reduce((sum, [each, weight]) => sum + weight * each.meanSquare, 0) > 0 ? terms : [];
  const personTerms: Terms = [
    [person, 1 / (parts * repeats)],
    [under, -1 / (parts * repeats)],
  ];
  const interactionTerms: Terms = pooled
    ? []
    : [
        [interaction, 1 / repeats],
        [error, -1 / repeats],
      ];
  const partTerms: Terms = [
    [part, 1 / (persons * repeats)],
    [under, -1 / (persons * repeats)],
  ];
  const others: Terms = [...positive(personTerms), ...positive(interactionTerms)];
  const gauge = combine([error, 1], ...others);
  const partsEstimate = combine(...partTerms);
  return {
    ok: true,
    study: {
      part,
      person,
      interaction,
      repeat,
      f,
      pInteraction,
      pooled,
      error,
      repeatability: combine([error, 1]),
      reproducibility: combine(...(others.length > 0 ? others : personTerms)),
      gauge,
      parts: partsEstimate,
      total: combine([error, 1], ...others, ...positive(partTerms)),
      categories: gauge.sd > 0 ? Math.floor((1.41 * partsEstimate.sd) / gauge.sd) : Infinity,
    },
  };
};
