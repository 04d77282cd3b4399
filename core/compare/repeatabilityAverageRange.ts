import { moments } from '../signal/moments.ts';
import { controlConstants } from '../season/controlConstants.ts';

/** Gauge study by averages and ranges, standard deviations in the unit of the readings. */
export interface AverageRangeStudy {
  /** Mean range of the repeats, and range of the persons' means. */
  readonly rangeMean: number;
  readonly personRange: number;
  /** Equipment variation (repeatability), appraiser variation, both, parts, all. */
  readonly equipment: number;
  readonly appraiser: number;
  readonly gauge: number;
  readonly parts: number;
  readonly total: number;
  /** gauge/total, and distinct categories ⌊1.41·parts/gauge⌋. */
  readonly gaugeShare: number;
  readonly categories: number;
}

/** 1/d₂*: expected range of `size` values when one range is averaged to give a root mean square. */
const factor = (size: number, ranges: number): number => {
  const { d2, d3 } = controlConstants(size);
  return 1 / Math.sqrt(d2 ** 2 + d3 ** 2 / ranges);
};

/** Above this many ranges the tables of AIAG use d₂ itself. */
const MANY_RANGES = 15;

/**
 * Average-and-range method (AIAG, Measurement Systems Analysis, 4th ed., III-B; K1 to K3 computed as
 * 1/d₂*, A. J. Duncan, Quality Control and Industrial Statistics). Readings as [part][person][repeat].
 * It is in the manual and quick by hand; it cannot see an interaction, and analysis of variance is to
 * be preferred. Null for fewer than two parts, persons or repeats, or for unequal numbers.
 */
export const repeatabilityAverageRange = (
  readings: readonly (readonly (readonly number[])[])[],
): AverageRangeStudy | null => {
  const parts = readings.length;
  const persons = readings[0]?.length ?? 0;
  const repeats = readings[0]?.[0]?.length ?? 0;
  if (parts < 2 || persons < 2 || repeats < 2) return null;
  if (readings.some((row) => row.length !== persons || row.some((c) => c.length !== repeats)))
    return null;
  const range = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);
  const cells = readings.flat();
  const rangeMean = moments(cells.map(range)).mean;
  const personMeans = Array.from(
    { length: persons },
    (_, j) => moments(readings.flatMap((row) => row[j] as readonly number[])).mean,
  );
  const personRange = range(personMeans);
  const ranges = parts * persons;
  const equipment = rangeMean * factor(repeats, ranges > MANY_RANGES ? Infinity : ranges);
  const appraiser = Math.sqrt(
    Math.max(0, (personRange * factor(persons, 1)) ** 2 - equipment ** 2 / (parts * repeats)),
  );
  const gauge = Math.hypot(equipment, appraiser);
  const partsSd = range(readings.map((row) => moments(row.flat()).mean)) * factor(parts, 1);
  const total = Math.hypot(gauge, partsSd);
  return {
    rangeMean,
    personRange,
    equipment,
    appraiser,
    gauge,
    parts: partsSd,
    total,
    gaugeShare: total > 0 ? gauge / total : NaN,
    categories: gauge > 0 ? Math.floor((1.41 * partsSd) / gauge) : Infinity,
  };
};
