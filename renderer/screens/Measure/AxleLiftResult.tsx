import type { ReactElement } from 'react';
import { fixed, HARD_SPACE } from '../../../core/format/number.ts';
import { inWords, lengthShown, massShown } from '../../../core/format/quantity.ts';
import { MM } from '../../../core/format/valueShown.ts';
import { axleLiftResult, type AxleLiftKept } from '../../../core/sheet/axleLiftKept.ts';
import { PushButton } from '../../parts/PushButton.tsx';
import { quantityField } from '../../parts/understandQuantity.ts';
import { useSize } from '../../parts/useSize.ts';
import { ResidualPlot } from '../../plot/ResidualPlot.tsx';

import type { Measure } from './useMeasure.ts';
import styles from './Screen.module.css';

const Residuals = ({
  lift,
  residuals,
}: {
  readonly lift: AxleLiftKept;
  readonly residuals: readonly number[];
}): ReactElement => {
  const [box, size] = useSize<HTMLDivElement>();
  const read = lift.readings.filter(({ load }) => load !== null);
  return (
    <figure className={styles['figure']}>
      <div className={styles['plot']} ref={box}>
        {size ? (
          <ResidualPlot
            {...size}
            points={read.map(({ lift: height, going }, index) => ({
              load: 1000 * height,
              error: residuals[index] ?? 0,
              side: going,
            }))}
          />
        ) : null}
      </div>
      <figcaption>
        Load less line, kg, over the lift, mm. Triangles going up, rings going down.
      </figcaption>
    </figure>
  );
};

/** The height that the readings give so far, what is to be said of it, and into the car with it. */
export const AxleLiftResult = ({
  measure,
  lift,
}: {
  readonly measure: Measure;
  readonly lift: AxleLiftKept;
}): ReactElement => {
  const outcome = axleLiftResult(lift);
  const { car, state } = measure;
  if (!outcome.ok)
    return (
      <p className={styles['help']} role="status">
        {outcome.why} {outcome.next}
      </p>
    );
  const { cgHeight, hysteresis, heightPerKilogram, residuals } = outcome.result;
  const said = inWords(lengthShown(cgHeight.value, cgHeight.u));
  const isIn = car.cgHeight !== null && Math.abs(car.cgHeight - cgHeight.value) < 5e-5;
  return (
    <>
      <p className={styles['result']} role="status">
        Centre of gravity {said} over the ground, on these wheels.
      </p>
      <p>
        A kilogram is worth {fixed(1000 * heightPerKilogram, 1)}
        {HARD_SPACE}mm of height at the highest lift.
        {hysteresis
          ? ` Going down less going up: ${inWords(massShown(state.settings.massUnit, hysteresis.value, hysteresis.u))}.`
          : ''}
      </p>
      <ul className={styles['findings']}>
        {outcome.warnings.map((warning) => (
          <li key={warning} data-weight="says">
            {warning}
          </li>
        ))}
      </ul>
      <Residuals lift={lift} residuals={residuals} />
      <div className={styles['buttons']}>
        <PushButton
          look="main"
          isDisabled={isIn}
          onPress={() =>
            measure.keepCar({ ...car, cgHeight: Math.round(cgHeight.value * 1e4) / 1e4 })
          }
        >
          {isIn ? 'In the car' : 'Put it into the car'}
        </PushButton>
        {car.cgHeight === null || isIn ? null : (
          <span>The car has {quantityField(MM, car.cgHeight)} now.</span>
        )}
      </div>
    </>
  );
};
