import type { TimedValue } from './unevenEwmaChart.ts';

/**
 * What is kept of a pad over the seasons, one point each time: its zero, its span against a known mass,
 * its noise. Times are wall-clock seconds, which only label and order; temperature in °C, null where
 * the pad does not say.
 */
interface PadPoint {
  readonly padSerial: string;
  readonly at: number;
  readonly temperature: number | null;
}

export interface ZeroPoint extends PadPoint {
  readonly kind: 'zero';
  /** Zero as the force it would be taken for, newton; its standard uncertainty. */
  readonly force: number;
  readonly u: number;
  /** Seconds since the pad was switched on; null where not known. */
  readonly sinceOn: number | null;
  /** What lay on the pad (a slip plate): zeros with and without are different series. */
  readonly carries: string;
}

export interface SpanCheckPoint extends PadPoint {
  readonly kind: 'span check';
  /** Calibration in use; a check belongs to one. */
  readonly calibrationId: string;
  /** Force read less that of the mass at the place, over the latter; its standard uncertainty. */
  readonly relative: number;
  readonly u: number;
}

export interface NoisePoint extends PadPoint {
  readonly kind: 'noise';
  /** Standard deviation of single readings over a still window, newton; above zero. */
  readonly sd: number;
}

export type SeasonPoint = ZeroPoint | SpanCheckPoint | NoisePoint;

/** One series: only points that can be compared with one another. */
export interface PadSeries {
  readonly padSerial: string;
  readonly kind: SeasonPoint['kind'];
  /** What else makes it one series: what the pad carried, or the calibration; empty for noise. */
  readonly of: string;
  /** In order of time. Noise as its natural logarithm: its scatter goes with its size. */
  readonly values: readonly TimedValue[];
}

const seriesOf = (point: SeasonPoint): string =>
  point.kind === 'zero' ? point.carries : point.kind === 'span check' ? point.calibrationId : '';

const valueOf = (point: SeasonPoint): number => {
  if (point.kind === 'zero') return point.force;
  if (point.kind === 'span check') return point.relative;
  if (!(point.sd > 0)) throw new RangeError(`not a noise: ${point.sd}`);
  return Math.log(point.sd);
};

/** Sorts points into series. Throws RangeError for a noise that is not above zero. */
export const padSeries = (points: readonly SeasonPoint[]): readonly PadSeries[] => {
  const groups = Map.groupBy(points, (point) =>
    JSON.stringify([point.padSerial, point.kind, seriesOf(point)]),
  );
  return [...groups.values()].flatMap((group) => {
    const [first] = group;
    if (!first) return [];
    const values = group
      .map((point) => ({ at: point.at, value: valueOf(point) }))
      .sort((a, b) => a.at - b.at);
    return [{ padSerial: first.padSerial, kind: first.kind, of: seriesOf(first), values }];
  });
};
