import { predictionAt } from '../../calibration/curveUse.ts';
import { limitAt } from '../../calibration/limitAt.ts';
import type { CalibrationRecord } from '../../contract/calibrationRecord.ts';
import { studentT } from '../../signal/studentT.ts';
import { axisOver } from '../axisOver.ts';
import type { PaperPlot, PaperPoint, PaperSeries } from '../paperDocument.ts';
import { padMasses } from './padMasses.ts';

/** Places at which a line that bends is drawn. */
const STEPS = 240;

const along = (top: number, of: (load: number) => number | null): readonly PaperPoint[] =>
  Array.from({ length: STEPS + 1 }, (_, index) => (index / STEPS) * top).flatMap((load) => {
    const value = of(load);
    return value === null ? [] : [[load, value] as const];
  });

/** A dashed line above and its mirror image below. */
const eitherWay = (name: string, path: readonly PaperPoint[]): readonly PaperSeries[] =>
  path.length === 0
    ? []
    : [
        {
          name,
          drawn: 'dashed',
          paths: [path, path.map(([load, value]) => [load, -value] as const)],
        },
      ];

type Drawn = Pick<PaperPlot, 'title' | 'series'> & { readonly upward: string };

const plot = ({ title, upward, series }: Drawn): PaperPlot => {
  const points = series.flatMap(({ paths }) => paths.flat());
  return {
    is: 'plot',
    title,
    across: axisOver(
      'Load, kg',
      points.map(([load]) => load),
    ),
    up: axisOver(
      upward,
      points.map(([, value]) => value),
    ),
    series,
  };
};

/** Points by the side from which they were reached: loads in kg, and a value of each. */
const bySide = (
  record: CalibrationRecord,
  of: (result: CalibrationRecord['results'][number]) => number | null,
): readonly PaperSeries[] => {
  const { toMass } = padMasses(record);
  return (['up', 'down'] as const).flatMap((side) => {
    const points = record.results.flatMap((result): PaperPoint[] => {
      const value = of(result);
      return value === null || result.side !== side || result.leftOut !== null
        ? []
        : [[toMass(result.applied), value]];
    });
    return points.length === 0
      ? []
      : [{ name: side === 'up' ? 'rising' : 'falling', drawn: side, paths: [points] }];
  });
};

/** What the fit leaves at each point, within the band in which 95 % of new readings would lie. */
export const residualPlot = (record: CalibrationRecord): PaperPlot | null => {
  const { curve, toMass } = padMasses(record);
  const { fit } = record;
  if (!curve || !fit) return null;
  const t = studentT(0.05, Math.max(1, curve.dof));
  const band = along(fit.top, (force) => t * predictionAt(curve, force).reading).map(
    ([force, half]) => [toMass(force), toMass(half)] as const,
  );
  return plot({
    title: 'Residuals of the fit',
    upward: 'Residual, kg',
    series: [
      ...bySide(record, ({ residual }) => (residual === null ? null : toMass(residual))),
      ...eitherWay('95 % of new readings', band),
    ],
  });
};

/** Errors of the indication, and the limits they are held against where there are any. */
export const errorPlot = (record: CalibrationRecord): PaperPlot | null => {
  const { toMass } = padMasses(record);
  const { fit, verdict } = record;
  if (!fit || record.coefficients === null) return null;
  return plot({
    title: 'Errors of the indication',
    upward: 'Error, kg',
    series: [
      ...bySide(record, ({ error }) => error),
      ...(verdict
        ? eitherWay(
            'limits',
            along(toMass(fit.top), (load) => limitAt(verdict.against, load)),
          )
        : []),
    ],
  });
};
