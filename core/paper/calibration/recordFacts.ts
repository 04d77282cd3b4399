import type { CalibrationRecord } from '../../contract/calibrationRecord.ts';
import { isForUse, refusalsOf } from '../../calibration/useRecord.ts';
import { fixed, HARD_SPACE } from '../../format/number.ts';
import { utcInWords } from '../../format/civilTime.ts';
import type { PaperFact, PaperText } from '../paperDocument.ts';
import { significant } from '../written.ts';

/** What kind of record it is, in the words of its title. */
export const KIND_WORDS: Readonly<Record<CalibrationRecord['kind'], string>> = {
  masses: 'Calibration with reference masses',
  transfer: 'Calibration against a pad in series',
  rating: 'Span by the maker’s rating: not calibrated',
};

const rangeOf = (values: readonly number[]): string => {
  const [least, most] = [Math.min(...values), Math.max(...values)].map((each) => fixed(each, 1));
  return least === most ? `${least} °C` : `${least} to ${most} °C`;
};

const applied = ({ kind, masses, reference, uApplied }: CalibrationRecord): PaperFact[] => {
  if (kind === 'rating') return [];
  const known =
    uApplied === null
      ? 'not known'
      : `${significant(100 * uApplied, 3)}${HARD_SPACE}% (standard, common to all points)`;
  return [
    reference
      ? {
          name: 'Pad in series',
          value: `${reference.padSerial}, by its calibration ${reference.calibrationId}`,
        }
      : { name: 'Masses', value: masses?.name ?? 'not known' },
    {
      name: 'Uncertainty of what was applied',
      value: uApplied === null ? { text: known, mark: 'open' } : known,
    },
  ];
};

/** What was calibrated, when, where and with what. */
export const recordFacts = (record: CalibrationRecord): readonly PaperFact[] => {
  const { padSerial, rating, madeAt, place, kind, practice, replaces, id, points } = record;
  const warm = points.flatMap(({ temperature }) => temperature ?? []);
  return [
    { name: 'Pad', value: padSerial },
    {
      name: 'Its rating',
      value: rating
        ? `${significant(rating.ratedLoad, 6)} kg at ${significant(rating.countsAtRatedLoad, 12)} counts`
        : 'the pad does not say',
    },
    { name: 'Made', value: utcInWords(madeAt) },
    {
      name: 'Place',
      value: `${place.name}, g = ${fixed(place.gravity, 6)} m/s²${kind === 'masses' ? ', which is in the span' : ' (no gravity is in the span)'}`,
    },
    ...applied(record),
    ...(warm.length > 0 ? [{ name: 'Temperature of the pad', value: rangeOf(warm) }] : []),
    { name: 'Pads', value: practice ? 'the practice rig: simulated, no real pad' : 'real' },
    { name: 'Record', value: id },
    { name: 'Replaces', value: replaces ?? 'nothing' },
    { name: 'Done by', value: null },
    { name: 'Looked at by', value: null },
  ];
};

/** Whether it may be used, and the reason where that is in spite of what was found. */
export const usageInWords = (record: CalibrationRecord): PaperText => {
  const refusals = refusalsOf(record).map(({ what }) => what);
  const text = (words: string, mark: 'good' | 'bad' | 'open'): PaperText => ({
    is: 'text',
    tone: 'strong',
    text: { text: words, mark },
  });
  if (!isForUse(record))
    return text(`Not for use. ${refusals.join(' ') || 'There is no curve.'}`, 'bad');
  if (record.inSpiteOf !== null)
    return text(
      `For use in spite of what was found. Reason written: “${record.inSpiteOf}”${refusals.length > 0 ? ` Found: ${refusals.join(' ')}` : ''}`,
      'open',
    );
  return record.kind === 'rating'
    ? text('For use, not calibrated: nothing is known of its error.', 'open')
    : text('For use: nothing was found that refuses it.', 'good');
};
