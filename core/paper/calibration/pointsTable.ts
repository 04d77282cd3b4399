import { LEFT_OUT_WORDS } from '../../calibration/leftOutWords.ts';
import type { CalibrationRecord } from '../../contract/calibrationRecord.ts';
import { listed } from '../../answers/answer.ts';
import { fixed } from '../../format/number.ts';
import type { PaperBlock, PaperCell } from '../paperDocument.ts';
import { padMasses } from './padMasses.ts';

/** Every point that was not undone, in the order of taking. */
export const pointsTable = (record: CalibrationRecord): readonly PaperBlock[] => {
  const { points, results } = record;
  if (results.length === 0) return [];
  const { toMass, written } = padMasses(record);
  const taken = new Map(points.map((point) => [point.number, point]));
  const undone = points.filter((point) => point.undone).map(({ number }) => String(number));
  const rows = results.map((result): readonly PaperCell[] => {
    const point = taken.get(result.number);
    return [
      String(result.number),
      written(toMass(result.applied)),
      point ? fixed(point.counts.value, 1) : '',
      point ? fixed(point.counts.u, 1) : '',
      String(result.cycle),
      result.side,
      result.error === null ? '' : written(result.error),
      result.residual === null ? '' : written(toMass(result.residual)),
      result.leftOut === null
        ? 'in the fit'
        : { text: LEFT_OUT_WORDS[result.leftOut], mark: 'open' },
    ];
  });
  return [
    { is: 'heading', text: 'Points' },
    {
      is: 'table',
      columns: [
        { head: 'No.', align: 'right' },
        { head: 'Applied, kg', align: 'right' },
        { head: 'Counts', align: 'right' },
        { head: 'u, counts', align: 'right' },
        { head: 'Cycle', align: 'right' },
        { head: 'Side', align: 'left' },
        { head: 'Error, kg', align: 'right' },
        { head: 'Residual, kg', align: 'right' },
        { head: 'Used', align: 'left' },
      ],
      rows,
    },
    {
      is: 'text',
      tone: 'quiet',
      text: `Error: indicated by the curve in use, over the zero read last, less applied. Residual: what the fit leaves.${
        undone.length > 0
          ? ` Undone while taking, and not shown: ${undone.length === 1 ? 'point' : 'points'} ${listed(undone)}.`
          : ''
      }`,
    },
  ];
};
