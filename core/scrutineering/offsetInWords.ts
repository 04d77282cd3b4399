import { changeText, valueText, type Wanted } from '../format/valueShown.ts';
import type { Offset } from './offset.ts';
import { marginAt } from './prediction.ts';
import type { TheirsKnown } from './theirsKnown.ts';

/** A trend less probable than this by chance is spoken of; common practice. */
const SEEN = 0.05;
const YEAR = 365.25;
/** More pairs than these are counted and not named. */
const MOST_NOTES = 2;

const ofPairs = (found: Offset, wanted: Wanted, wished: number): readonly string[] => {
  const { mean, between, within, trend, poolAgrees, scatter, prediction } = found;
  const tail = (1 - wished) / 2;
  const reach = marginAt(prediction, tail);
  const events = scatter.events === 1 ? '1 event' : `${scatter.events} events`;
  return [
    `${scatter.pairs} ${scatter.pairs === 1 ? 'pair' : 'pairs'} of ${events}: theirs less ours is ${changeText(wanted, scatter.mean, mean?.u ?? null)} on the mean.`,
    `Their next reading less ours will be ${changeText(wanted, prediction.shift)} ±${valueText(wanted, reach, reach / 2)}, with the wished confidence.`,
    ...(between === null
      ? []
      : between.sd === 0
        ? ['Events do not differ more than pairs of one event do.']
        : [
            `Events differ by a standard deviation of ${valueText(wanted, between.sd, between.sd)}.`,
          ]),
    ...(within === null
      ? ['No event has two pairs, so what one event repeats is not known.']
      : [`Pairs of one event differ by ${valueText(wanted, within.sd, within.sd)}.`]),
    ...(trend && trend.p < SEEN
      ? [
          `There is a trend of ${changeText(wanted, trend.perDay * YEAR, trend.u * YEAR)} a year: say below if it is to be followed.`,
        ]
      : []),
    ...(poolAgrees !== null && poolAgrees < SEEN
      ? ['Here events differ more than with the other scrutineers: do not take their scatter.']
      : []),
    ...(found.notes.length > MOST_NOTES
      ? [`${found.notes.length} pairs: seat or fuel not checked, not corrected.`]
      : found.notes),
  ];
};

/** What is known of their reading of one quantity, in sentences. */
export const offsetInWords = (
  known: TheirsKnown,
  wanted: Wanted,
  wished: number,
): readonly string[] => {
  const { offset, basis } = known;
  if (offset.ok) return ofPairs(offset, wanted, wished);
  return [
    offset.why,
    ...(basis === 'stated' ? ['Until then what you state is used.'] : []),
    ...(basis === 'limits of error'
      ? ['Until then their limits of error are used at their worst: every chance is at least that.']
      : []),
    ...(basis === null && known.whyNone !== null && known.whyNone !== offset.why
      ? [known.whyNone]
      : []),
  ];
};
