import type { ReactElement } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import { BLANK_CAR_DETAILS } from '../../../core/sheet/blankCarDetails.ts';
import { useToldCar } from '../../live/useToldCar.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { WheelFields } from '../Measure/WheelFields.tsx';

/** The set-up wheels and tyres of the car in use: they are part of the car. */
export const CarWheels = ({ state }: { readonly state: BenchState }): ReactElement => {
  const { note, give } = useCommand();
  const { car, keepCar } = useToldCar(state.car, give);
  const details = car.details ?? BLANK_CAR_DETAILS;
  return (
    <>
      <p>Those of {car.name}, the car in use. A copy of the car has them too.</p>
      <WheelFields
        key={car.id}
        details={details}
        labels={state.settings.cornerLabels}
        gravity={state.gravity}
        change={(changes) => keepCar({ ...car, details: { ...details, ...changes } })}
      />
      <NoteLine note={note} />
    </>
  );
};
