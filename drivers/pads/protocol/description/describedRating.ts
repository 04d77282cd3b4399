import type { PadRating } from '../../../../core/reading.ts';
import type { PadModel } from '../model.ts';
import type { DescribedRating, PadDescription } from './descriptionSchema.ts';
import { asNumber, COUNTS_PER_UNIT, parseFraction, roundTimes, times } from './exactScale.ts';
import type { LoadDecoder } from './loadDecoder.ts';
import { planPayload, type Step } from './payloadPlan.ts';
import type { Tell } from './problems.ts';
import { createWalk, walkPayload } from './walkPayload.ts';

/** Where a described pad's rating comes from: the nominal span before it is ever calibrated. */

/** Largest rated load, counts: raw counts are kept as 32-bit integers. */
const MOST_COUNTS = 0x7fffffff;

/** Counts of a load in kg where the pad sends masses or forces. */
const countsOf = (ratedLoad: string): number => {
  const fraction = parseFraction(ratedLoad);
  return fraction ? roundTimes(1, times(fraction, COUNTS_PER_UNIT.kg)) : 0;
};

/** One step of the transmitted number, counts: the coarsest of its units. */
const resolutionOf = (decoder: LoadDecoder): number =>
  Math.max(...decoder.units.map(({ step }) => Math.max(1, roundTimes(1, step))));

/** Largest load that the field can say, counts. */
const ceilingOf = (decoder: LoadDecoder): number => {
  const step = decoder.plan.steps.find(({ field }) => field.is === 'load') as Step;
  const largest = 2 ** (8 * step.width - (step.isSigned ? 1 : 0)) - 1;
  return Math.max(...decoder.units.map((unit) => roundTimes(largest, unit.step)));
};

/** Tells what does not fit between the rating and the loads it is for. */
export const ratingProblems = (
  { rating }: PadDescription,
  decoder: LoadDecoder,
  tell: Tell,
): void => {
  const isCounts = decoder.units.some(({ unit }) => unit === 'counts');
  if (rating.from === 'fixed') {
    if (isCounts && rating.counts === undefined)
      tell('rating.counts', 'missing: say what the rated load adds to an empty pad’s counts');
    if (!isCounts && rating.counts !== undefined)
      tell('rating.counts', 'take it out: loads are sent in a unit, which says it');
    if (isCounts) return;
    const counts = countsOf(rating.ratedLoad);
    if (counts > ceilingOf(decoder))
      tell('rating.ratedLoad', 'lower it: the load field cannot say as much as this, kg');
    else if (counts < 1 || counts > MOST_COUNTS)
      tell('rating.ratedLoad', 'write 0.000001 to 2147 kg: loads are kept in milligrams');
  } else if (rating.from === 'read') {
    const kinds = rating.fields.map(({ is }) => is);
    if (!kinds.includes('rated load'))
      tell(
        'rating.fields',
        'add a field of kind “rated load”, or make the rating fixed or unknown',
      );
    if (isCounts && !kinds.includes('rated counts'))
      tell('rating.fields', 'add a field of kind “rated counts”: loads are sent as counts');
    if (!isCounts && kinds.includes('rated counts'))
      tell('rating.fields', 'take “rated counts” out: loads are sent in a unit, which says it');
  }
};

/** Makes the decoder of a rating that is read; null is a rating that says nothing usable. */
const readRating = (
  rating: Extract<DescribedRating, { from: 'read' }>,
  resolution: number,
): ((bytes: Uint8Array) => PadRating | null) => {
  const plan = planPayload(rating);
  const walk = createWalk(plan);
  const loadAt = rating.fields.findIndex(({ is }) => is === 'rated load');
  const countsAt = rating.fields.findIndex(({ is }) => is === 'rated counts');
  const field = rating.fields[loadAt];
  const scale = field?.is === 'rated load' ? parseFraction(field.scale) : null;
  if (field?.is !== 'rated load' || !scale) return () => null;
  const step = times(times(scale, COUNTS_PER_UNIT[field.unit]), { num: 1n, den: 1_000_000n });
  return (bytes) => {
    if (walkPayload(plan, bytes, walk) !== null) return null;
    const raw = walk.values[loadAt] ?? 0;
    const ratedLoad = asNumber(times({ num: BigInt(raw), den: 1n }, step));
    const counts =
      countsAt < 0
        ? roundTimes(raw, times(step, COUNTS_PER_UNIT.kg))
        : (walk.values[countsAt] ?? 0);
    return ratedLoad > 0 && counts >= 1 && counts <= MOST_COUNTS
      ? { ratedLoad, countsAtRatedLoad: counts, resolution }
      : null;
  };
};

/** The rating of a pad model, from a description in which it fits the loads. */
export const describedRating = (
  { rating }: PadDescription,
  decoder: LoadDecoder,
): PadModel['rating'] => {
  const resolution = resolutionOf(decoder);
  switch (rating.from) {
    case 'unknown':
      return { fixed: null };
    case 'fixed': {
      const fraction = parseFraction(rating.ratedLoad);
      const countsAtRatedLoad = rating.counts ?? countsOf(rating.ratedLoad);
      return {
        fixed: fraction && { ratedLoad: asNumber(fraction), countsAtRatedLoad, resolution },
      };
    }
    case 'read':
      return {
        from: { service: rating.service, uuid: rating.characteristic },
        decode: readRating(rating, resolution),
      };
  }
};
