import { useMemo } from 'react';
import type { Car } from '../../core/sheet/car.ts';
import type { GiveCommand } from '../parts/useCommand.ts';
import { useTold } from './useTold.ts';

/** The car in hand with what was told of it since, and how it is told; a refusal takes it back. */
export const useToldCar = (
  current: Car,
  give: GiveCommand['give'],
): { readonly car: Car; readonly keepCar: (next: Car) => void } => {
  const { all, tell, takeBack } = useTold(useMemo(() => [current], [current]));
  return {
    car: all.find(({ id }) => id === current.id) ?? current,
    keepCar: (next) => {
      tell(next);
      void give(
        { do: 'use car', car: next },
        { doing: 'Storing the car.', done: () => 'Car stored.' },
      ).then((result) => {
        if (!result) takeBack(next.id);
      });
    },
  };
};
