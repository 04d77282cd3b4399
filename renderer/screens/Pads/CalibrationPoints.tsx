import type { ReactElement } from 'react';
import { LEFT_OUT_WORDS } from '../../../core/calibration/leftOutWords.ts';
import type { CalibrationRecord } from '../../../core/contract/calibrationRecord.ts';
import { fixed } from '../../../core/format/number.ts';
import { massIn, type MassUnit } from '../../../core/units.ts';
import { useSize } from '../../parts/useSize.ts';
import { ResidualPlot } from '../../plot/ResidualPlot.tsx';
import styles from './Calibrate.module.css';

interface ErrorPoint {
  readonly load: number;
  readonly error: number;
  readonly side: 'up' | 'down';
}

const ErrorFigure = ({
  errors,
  unit,
}: {
  readonly errors: readonly ErrorPoint[];
  readonly unit: MassUnit;
}): ReactElement => {
  const [element, size] = useSize<HTMLDivElement>();
  return (
    <figure className={styles['figure']}>
      <figcaption>
        Error of the indication by load, {unit}: triangles going up, rings coming down
      </figcaption>
      <div
        ref={element}
        className={styles['plot']}
        role="img"
        aria-label="Error by load, up and down apart"
      >
        {size && errors.length > 1 ? (
          <ResidualPlot points={errors} width={size.width} height={size.height} />
        ) : null}
      </div>
    </figure>
  );
};

/** The points, what the curve leaves of each, and a picture of that. */
export const CalibrationPoints = ({
  record,
  unit,
}: {
  readonly record: CalibrationRecord;
  readonly unit: MassUnit;
}): ReactElement => {
  const { gravity } = record.place;
  const shown = (kg: number, decimals: number): string => fixed(massIn(unit, kg), decimals);
  const errors = record.results.flatMap(({ applied, error, side }) =>
    error === null
      ? []
      : [{ load: massIn(unit, applied / gravity), error: massIn(unit, error), side }],
  );
  if (record.points.length === 0)
    return (
      <p className={styles['help']}>
        No point yet. Take the zero with nothing on the pad, then put the first masses on.
      </p>
    );
  return (
    <>
      <div className={styles['table']}>
        <table>
          <thead>
            <tr>
              <th scope="col">no.</th>
              <th scope="col">load {unit}</th>
              <th scope="col">way</th>
              <th scope="col">error {unit}</th>
              <th scope="col">note</th>
            </tr>
          </thead>
          <tbody>
            {record.results.map((result) => (
              <tr key={result.number} data-out={result.leftOut !== null}>
                <td>{result.number}</td>
                <td>{shown(result.applied / gravity, 2)}</td>
                <td>{result.side}</td>
                <td>{result.error === null ? '—' : shown(result.error, 3)}</td>
                <td>{result.leftOut === null ? '' : LEFT_OUT_WORDS[result.leftOut]}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <ErrorFigure errors={errors} unit={unit} />
    </>
  );
};
