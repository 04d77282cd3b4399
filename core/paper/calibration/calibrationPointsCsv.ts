import { placePoints } from '../../calibration/placePoints.ts';
import type {
  CalibrationRecord,
  PointResult,
  TakenPoint,
} from '../../contract/calibrationRecord.ts';
import { csvText, type CsvColumn } from '../csv.ts';

interface Row {
  readonly point: TakenPoint;
  /** Null for a point that was undone. */
  readonly result: PointResult | null;
  readonly zero: number | null;
  /** Labels of the masses on the pad. */
  readonly masses: readonly string[];
  readonly gravity: number;
}

/** Columns of the points of a calibration, one row for each point taken, those undone too. */
export const POINT_COLUMNS: readonly CsvColumn<Row>[] = [
  {
    name: 'number',
    means: 'in the order of taking, from 1',
    of: ({ point }) => point.number,
  },
  {
    name: 'pad',
    means: 'serial number of the pad that was read',
    of: ({ point }) => point.padSerial,
  },
  { name: 'time [s]', means: 'since the calibration began', of: ({ point }) => point.at },
  {
    name: 'masses',
    means: 'labels of the masses that stood on the pad, joined by +',
    of: ({ masses }) => masses.join(' + '),
  },
  {
    name: 'applied [N]',
    means: 'force applied',
    of: ({ result }) => result?.applied ?? null,
  },
  {
    name: 'applied [kg]',
    means: 'the same as a mass, by the gravity of the place',
    of: ({ result, gravity }) => (result ? result.applied / gravity : null),
  },
  {
    name: 'u reference [N]',
    means: 'scatter of the pad in series at this point, standard uncertainty; empty with masses',
    of: ({ point }) => point.reference?.u ?? null,
  },
  {
    name: 'counts',
    means: 'mean of the settled reading as sent, zero not taken off',
    of: ({ point }) => point.counts.value,
  },
  {
    name: 'u [counts]',
    means: 'its standard uncertainty',
    of: ({ point }) => point.counts.u,
  },
  {
    name: 'dof',
    means: 'degrees of freedom of that',
    of: ({ point }) => point.counts.dof,
  },
  {
    name: 'zero',
    means: 'which zero of the fit it stands over, from 1',
    of: ({ zero }) => zero,
  },
  {
    name: 'cycle',
    means: 'which loading from nothing and back, from 1',
    of: ({ result }) => result?.cycle ?? null,
  },
  {
    name: 'side',
    means: 'up or down: the load was reached from below or from above',
    of: ({ result }) => result?.side ?? null,
  },
  {
    name: 'error [kg]',
    means: 'indicated by the curve in use over the zero read last, less applied',
    of: ({ result }) => result?.error ?? null,
  },
  {
    name: 'residual [N]',
    means: 'what the fit leaves, through the slope of the curve; empty where it is not in the fit',
    of: ({ result }) => result?.residual ?? null,
  },
  {
    name: 'left out',
    means: 'why it is not in the fit; empty where it is',
    of: ({ result }) => result?.leftOut ?? null,
  },
  {
    name: 'temperature [°C]',
    means: 'of the pad',
    of: ({ point }) => point.temperature,
  },
  {
    name: 'flags',
    means: 'sum of 1 overload, 2 saturated, 4 low battery, 8 restarted, 16 lone spike replaced',
    of: ({ point }) => point.flags,
  },
  {
    name: 'placed anew',
    means: 'no: what stood there was only read again',
    of: ({ point }) => point.placedAnew,
  },
  {
    name: 'rose on',
    means: 'pad on which the load appeared instead',
    of: ({ point }) => point.risenElsewhere,
  },
  { name: 'undone', means: 'taken back while taking: in nothing', of: ({ point }) => point.undone },
];

/** The points as a file (RFC 4180): what was taken as it was taken, and what was made of it. */
export const calibrationPointsCsv = (record: CalibrationRecord): string => {
  const { gravity } = record.place;
  const results = new Map(record.results.map((result) => [result.number, result]));
  const labels = new Map(record.masses?.masses.map(({ id, label }) => [id, label]));
  const placed = placePoints(record.points, { ...record, gravity });
  const zeros = new Map(placed.map(({ taken, zero }) => [taken.number, zero]));
  return csvText(
    POINT_COLUMNS,
    record.points.map((point) => ({
      point,
      result: results.get(point.number) ?? null,
      zero: zeros.get(point.number) ?? null,
      masses: point.massIds.map((id) => labels.get(id) ?? id),
      gravity,
    })),
  );
};
