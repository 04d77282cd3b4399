import type { ReactElement } from 'react';
import { BLANK_CAR_DETAILS } from '../../../core/sheet/blankCarDetails.ts';
import type { CarDetails } from '../../../core/sheet/carDetails.ts';
import { AdjusterFields } from '../../parts/AdjusterFields.tsx';
import type { Measure } from './useMeasure.ts';
import { BodyFields } from './BodyFields.tsx';
import { LoadPlaces } from './LoadPlaces.tsx';
import { PointFields } from './PointFields.tsx';
import { WheelFields } from './WheelFields.tsx';
import styles from './Screen.module.css';

/** A part of the car's details and how it is changed. */
export interface DetailsProps {
  readonly measure: Measure;
  readonly details: CarDetails;
  readonly change: (changes: Partial<CarDetails>) => void;
}

/** The car: what its set-up needs to be known. */
export const CarPart = ({ measure }: { readonly measure: Measure }): ReactElement => {
  const { car } = measure;
  const details = car.details ?? BLANK_CAR_DETAILS;
  const change = (changes: Partial<CarDetails>): void =>
    measure.keepCar({ ...car, details: { ...details, ...changes } });
  const props = { measure, details, change };
  return (
    <>
      <BodyFields {...props} />
      <PointFields {...props} />
      <section className={styles['part']} aria-label="Adjusters">
        <h2>Height adjusters</h2>
        <AdjusterFields
          adjusters={details.adjusters}
          perchPitch={car.perchPitch}
          labels={measure.state.settings.cornerLabels}
          onChange={(adjusters) => change({ adjusters })}
        />
      </section>
      <WheelFields
        details={details}
        labels={measure.state.settings.cornerLabels}
        gravity={measure.state.gravity}
        change={change}
      />
      <LoadPlaces {...props} />
      <p className={styles['help']}>
        What the rules limit on this car is entered under Scrutineering, beside what their equipment
        reads.
      </p>
    </>
  );
};
