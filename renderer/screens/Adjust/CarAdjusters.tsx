import type { ReactElement } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import { BLANK_CAR_DETAILS } from '../../../core/sheet/blankCarDetails.ts';
import { useToldCar } from '../../live/useToldCar.ts';
import { AdjusterFields } from '../../parts/AdjusterFields.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import styles from './Screen.module.css';

/** What turns need of the car: threads and how they are turned; the rest is said where to type. */
export const CarAdjusters = ({ state }: { readonly state: BenchState }): ReactElement => {
  const { note, give } = useCommand();
  const { car, keepCar } = useToldCar(state.car, give);
  const details = car.details ?? BLANK_CAR_DETAILS;
  return (
    <section className={styles['fields']} aria-label="The car’s adjusters">
      <AdjusterFields
        adjusters={details.adjusters}
        perchPitch={car.perchPitch}
        labels={state.settings.cornerLabels}
        onChange={(adjusters) => keepCar({ ...car, details: { ...details, adjusters } })}
      />
      <p>Motion ratios, wheel rates and bars are typed under Measure, Car.</p>
      <NoteLine note={note} />
    </section>
  );
};
