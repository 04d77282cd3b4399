import { warpPattern, warpStiffness } from '../adjust/warp.ts';
import { forcePerCount, nominalCalibration } from '../calibration/calibration.ts';
import { calibrationOf, curvePart } from '../calibration/useRecord.ts';
import type { LoweringScatter } from '../compare/repeatabilityLowering.ts';
import type { CalibrationRecord } from '../contract/calibrationRecord.ts';
import type { Capture } from '../contract/records.ts';
import { CORNERS, inOrder, type Corner } from '../corners.ts';
import { spanDrift } from '../season/spanDrift.ts';
import { temperatureEffect } from '../season/temperatureEffect.ts';
import { moments } from '../signal/moments.ts';
import type { Car } from '../sheet/car.ts';
import {
  frictionTerm,
  gravityTerm,
  patchTwistTerm,
  readingTerm,
  repeatabilityTerm,
  wheelRadiusTerm,
  windTerms,
} from '../uncertainty/carTerms.ts';
import { effectiveDof, type Part } from '../uncertainty/combine.ts';
import type { CornerTerm, FourParts } from '../uncertainty/cornerTerm.ts';
import {
  calibrationTerm,
  creepAndHysteresisTerm,
  offCentreTerm,
  referenceMassesTerm,
  resolutionTerm,
  spanDriftTerm,
  temperatureTerm,
  zeroTerm,
  type FourKnown,
} from '../uncertainty/padTerms.ts';
import type { PadRating } from '../reading.ts';
import type { KeptBook } from './keptBook.ts';
import { offCentreTests, relativeMassU, seasonPoints } from './padHistory.ts';
import type { PadCalibrations } from './padCalibrations.ts';
import type { ZeroRecord } from './storePort.ts';

/**
 * Relative standard uncertainty of g computed from latitude and height: local anomalies are 1 to 6
 * parts in 10⁵, rectangular within the larger (see calibration/gravity.ts).
 */
const COMPUTED_GRAVITY = 6e-5 / Math.sqrt(3);

/** What the bench remembers that a budget is made of. */
export interface Knowledge {
  readonly book: KeptBook;
  readonly calibrations: PadCalibrations;
  readonly car: Car;
  readonly zerosOf: (padSerial: string) => readonly ZeroRecord[];
  readonly ratingOf: (padSerial: string) => PadRating | null;
  /** Captures of this world by id, for the shifts of zeros in the past. */
  readonly shifts: readonly { readonly padSerial: string; readonly shift: number }[];
  /** Scatter of repeated lowerings of this car; null without a study. */
  readonly scatter: LoweringScatter | null;
  /** Whether g at the venue was typed in rather than computed. */
  readonly isGravityMeasured: boolean;
}

const four = <T>(make: (corner: Corner) => T | null): FourKnown<T> => {
  const [a, b, c, d] = CORNERS.map(make) as [T | null, T | null, T | null, T | null];
  return [a, b, c, d];
};

/** The terms of everything that is made of one capture's corner weights, kg. */
export const knownTerms = (capture: Capture, known: Knowledge): readonly CornerTerm[] => {
  const { gravity, corners } = capture;
  const { book, car } = known;
  const [a, b, c, d] = inOrder(corners).map(({ mass }) => mass.value);
  const weights = [a, b, c, d] as unknown as FourParts;

  const recordOf = (corner: Corner): CalibrationRecord | null => {
    const { padSerial, calibrationId } = corners[corner];
    return calibrationId === null ? null : known.calibrations.find(padSerial, calibrationId);
  };
  const zeroOf = (corner: Corner): ZeroRecord | null =>
    known.zerosOf(corners[corner].padSerial).find(({ id }) => id === corners[corner].zeroId) ??
    null;
  const kgPerCount = (corner: Corner): number | null => {
    const record = recordOf(corner);
    const rating = known.ratingOf(corners[corner].padSerial);
    const calibration =
      (record && calibrationOf(record)) ?? (rating ? nominalCalibration(rating) : null);
    return calibration ? Math.abs(forcePerCount(calibration, 0, 0)) / gravity : null;
  };
  const zeroPart = (corner: Corner): Part | null => {
    const zero = zeroOf(corner);
    const perCount = kgPerCount(corner);
    return zero && perCount !== null ? { u: zero.u * perCount, dof: zero.dof } : null;
  };

  // The capture's covariance holds the zeros' scatter too, which has a term of its own here.
  const reading = capture.covariance.map((entry, index) => {
    const corner = CORNERS[index % 5 === 0 ? index / 5 : -1];
    const zero = corner ? (zeroPart(corner)?.u ?? 0) : 0;
    return Math.max(index % 5 === 0 ? 0 : -Infinity, entry / gravity ** 2 - zero ** 2);
  });
  const readingDof = Math.max(
    1,
    effectiveDof(inOrder(corners).map(({ mass }) => ({ u: mass.u, dof: mass.dof }))),
  );

  const shiftHistory = (padSerial: string): Part | null => {
    const past = known.shifts.filter((one) => one.padSerial === padSerial);
    if (past.length < 2) return null;
    return {
      u: Math.hypot(...past.map(({ shift }) => shift)) / Math.sqrt(past.length),
      dof: past.length,
    };
  };
  const temperatureOfCalibration = (record: CalibrationRecord | null): number | null => {
    const told = record?.points.flatMap(({ temperature }) =>
      temperature === null ? [] : [temperature],
    );
    return told && told.length > 0 ? moments(told).mean : null;
  };
  const pads = CORNERS.map((corner) => seasonPoints(book, corners[corner].padSerial));
  const pointsOf = (corner: Corner) => pads[CORNERS.indexOf(corner)] ?? [];

  const masses = (): Part | null => {
    const each = CORNERS.map((corner) => recordOf(corner)?.uApplied ?? null);
    const worst = each.reduce<number | null>(
      (most, u) => (most === null || u === null ? null : Math.max(most, u)),
      0,
    );
    return worst === null ? null : { u: worst, dof: Infinity };
  };
  const gravityPart = (): Part | null => {
    const places = CORNERS.map((corner) => recordOf(corner)?.place ?? null);
    if (places.some((place) => place === null)) return null;
    if (places.every((place) => place?.gravity === gravity)) return { u: 0, dof: Infinity };
    return {
      u: Math.hypot(COMPUTED_GRAVITY, known.isGravityMeasured ? 0 : COMPUTED_GRAVITY),
      dof: Infinity,
    };
  };

  const n = inOrder(warpPattern(car));
  const pattern = [n[0], n[1], n[2], n[3]] as unknown as FourParts;
  const warp = { pattern, perMetre: warpStiffness(car) / gravity };

  return [
    // A study of lowerings holds the noise of its windows already.
    ...(known.scatter ? [] : [readingTerm(reading, readingDof)]),
    repeatabilityTerm(known.scatter, 1),
    calibrationTerm(
      four((corner) => {
        const record = recordOf(corner);
        const calibration = record && calibrationOf(record);
        const part = calibration && curvePart(calibration, corners[corner].force.value);
        return part ? { u: part.u / gravity, dof: part.dof } : null;
      }),
    ),
    referenceMassesTerm(weights, masses()),
    zeroTerm(
      four((corner) => {
        const part = zeroPart(corner);
        return (
          part && {
            reading: part,
            shiftAfter: capture.zeroShift?.[corner] ?? null,
            shiftHistory: shiftHistory(corners[corner].padSerial),
          }
        );
      }),
    ),
    creepAndHysteresisTerm(
      four((corner) => {
        const shown = recordOf(corner)?.characteristics;
        if (!shown?.hysteresis || !shown.creep) return null;
        const share = corners[corner].mass.value / shown.creep.load;
        return {
          hysteresis: shown.hysteresis.value,
          creep: shown.creep.change * share,
        };
      }),
    ),
    spanDriftTerm(
      weights,
      four((corner) => {
        const record = recordOf(corner);
        if (!record) return null;
        const all = book.of('mass check', corners[corner].padSerial);
        const uMass = relativeMassU(all, record.id);
        if (uMass === null) return null;
        return spanDrift(
          all
            .filter(({ calibrationId, uReading }) => calibrationId === record.id && uReading > 0)
            .map(({ at, relative, uReading }) => ({
              sinceCalibration: (at - record.madeAt) / 1000,
              relative,
              u: uReading,
            })),
          { at: (capture.takenAt - record.madeAt) / 1000, uMass },
        );
      }),
    ),
    resolutionTerm(
      four((corner) => {
        const rating = known.ratingOf(corners[corner].padSerial);
        const perCount = kgPerCount(corner);
        return rating && perCount !== null ? rating.resolution * perCount : null;
      }),
    ),
    temperatureTerm(
      weights,
      four((corner) => {
        const now = corners[corner].temperature;
        const atZero = zeroOf(corner)?.temperature ?? null;
        const atCalibration = temperatureOfCalibration(recordOf(corner));
        const zeros = pointsOf(corner).filter((point) => point.kind === 'zero');
        const spans = pointsOf(corner).filter((point) => point.kind === 'span check');
        const zero = temperatureEffect(
          zeros.map(({ at, force, temperature }) => ({ at, value: force / gravity, temperature })),
        );
        return {
          zero,
          span: temperatureEffect(
            spans.map(({ at, relative, temperature }) => ({ at, value: relative, temperature })),
          ),
          sinceZero: now === null || atZero === null ? null : now - atZero,
          sinceCalibration: now === null || atCalibration === null ? null : now - atCalibration,
        };
      }),
    ),
    offCentreTerm(
      weights,
      four((corner) => {
        const test = offCentreTests(book, corners[corner].padSerial).findLast(
          ({ largest }) => largest !== null,
        );
        return test && test.largest !== null
          ? { largest: test.largest, testLoad: test.mass, reach: 1 }
          : null;
      }),
    ),
    frictionTerm(warp, null),
    ...windTerms(weights, null),
    wheelRadiusTerm(warp, null),
    patchTwistTerm(warp, null),
    gravityTerm(weights, gravityPart()),
  ];
};
