import { gravityByCheck } from '../answers/gravityNote.ts';
import { offCentre } from '../calibration/offCentre.ts';
import type { CalibrationRecord } from '../contract/calibrationRecord.ts';
import type { KeptOf } from '../contract/kept.ts';
import type { OffCentreShown, PadHistory } from '../contract/padHistory.ts';
import type { SeasonPoint } from '../season/padPoints.ts';
import { padSeason } from '../season/padSeason.ts';
import { padWords } from '../season/padWords.ts';
import type { MassUnit } from '../units.ts';
import type { KeptBook } from './keptBook.ts';
import type { PadCalibrations } from './padCalibrations.ts';

/** One test off the centre as its readings stand; they are in the order of reading. */
const offCentreShown = (
  testId: string,
  readings: readonly KeptOf<'off-centre reading'>[],
): OffCentreShown[] => {
  const [first] = readings;
  if (!first) return [];
  const { mass, distance, at } = first;
  const outcome = offCentre({ readings, mass, distance, against: null });
  const head = { testId, at, mass, distance };
  if (!outcome.ok)
    return [
      {
        ...head,
        missing: [...outcome.missing],
        places: [],
        largest: null,
        isSeen: false,
        drift: null,
        perMetre: null,
      },
    ];
  const { places, largest, isSeen, drift, perMetre } = outcome.found;
  return [
    {
      ...head,
      missing: [],
      places: places.map(({ place, difference, u }) => ({ place, difference, u })),
      largest,
      isSeen,
      drift,
      perMetre,
    },
  ];
};

/** Tests of a pad with the mass at the middle and four edges, oldest first. */
export const offCentreTests = (book: KeptBook, padSerial: string): readonly OffCentreShown[] =>
  [
    ...Map.groupBy(book.of('off-centre reading', padSerial), ({ testId }) => testId).entries(),
  ].flatMap(([testId, readings]) => offCentreShown(testId, readings));

/**
 * Relative standard uncertainty of the mass of the newest check under a calibration; null where it is
 * not known, and where the pad was never checked.
 */
export const relativeMassU = (
  checks: readonly KeptOf<'mass check'>[],
  calibrationId: string,
): number | null => {
  const newest = checks.findLast((check) => check.calibrationId === calibrationId);
  return newest && newest.mass.u !== null ? newest.mass.u / newest.mass.value : null;
};

/** The points of a pad's seasons, oldest first of each kind. */
export const seasonPoints = (book: KeptBook, padSerial: string): readonly SeasonPoint[] => {
  const zeros = book.of('zero taken', padSerial).flatMap((zero): SeasonPoint[] => {
    const { temperature, force, u, onFor, sd } = zero;
    const point = { padSerial, at: zero.at / 1000, temperature };
    return [
      { ...point, kind: 'zero', force, u, sinceOn: onFor, carries: '' },
      { ...point, kind: 'noise', sd },
    ];
  });
  const checks = book
    .of('mass check', padSerial)
    .flatMap(({ calibrationId, relative, uReading, temperature, at }): SeasonPoint[] =>
      calibrationId === null || !(uReading > 0)
        ? []
        : [
            {
              kind: 'span check',
              padSerial,
              at: at / 1000,
              temperature,
              calibrationId,
              relative,
              u: uReading,
            },
          ],
    );
  return [...zeros, ...checks];
};

/** What the newest check says of gravity, where its span was made at another place. */
const gravityFinding = (
  checks: readonly KeptOf<'mass check'>[],
  used: CalibrationRecord | null,
  { unit }: { readonly unit: MassUnit },
): readonly string[] => {
  const check = checks.findLast(({ calibrationId }) => used && calibrationId === used.id);
  if (!check || !used || check.place.gravity === used.place.gravity) return [];
  const { mass, difference, uReading, place } = check;
  return [
    gravityByCheck({
      mass: mass.value,
      read: mass.value + difference,
      u: Math.hypot(uReading * mass.value, mass.u ?? 0),
      here: place.gravity,
      span: used.place,
      unit,
    }),
  ];
};

/** Everything that is known of one pad over the seasons. */
export const padHistory = (
  padSerial: string,
  about: {
    readonly book: KeptBook;
    readonly calibrations: PadCalibrations;
    readonly unit: MassUnit;
    /** Wall-clock label of now, ms. */
    readonly wallAt: number;
  },
): PadHistory => {
  const { book, calibrations, unit, wallAt } = about;
  const used = calibrations.inUse(padSerial)?.record ?? null;
  const points = seasonPoints(book, padSerial);
  const checks = book.of('mass check', padSerial);
  const uMass = used ? relativeMassU(checks, used.id) : null;
  return {
    padSerial,
    calibrations: [...calibrations.of(padSerial)],
    inUse: used?.id ?? null,
    checks: checks.map((check) => ({
      at: check.at,
      placeName: check.place.name,
      mass: check.mass.value,
      relative: check.relative,
      u: Math.hypot(check.uReading, check.mass.u === null ? 0 : check.mass.u / check.mass.value),
      difference: check.difference,
      state: check.state,
    })),
    offCentre: [...offCentreTests(book, padSerial)],
    series: [...padSeason(points)],
    findings: [
      ...gravityFinding(checks, used, about),
      ...padWords(points, {
        calibration:
          used && uMass !== null ? { id: used.id, madeAt: used.madeAt / 1000, uMass } : null,
        now: wallAt / 1000,
        unit,
      }),
    ],
  };
};
