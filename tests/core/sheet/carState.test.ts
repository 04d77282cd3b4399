import { expect, test } from 'vitest';
import {
  asAgreed,
  checkCarState,
  COMMON_CAR_STATE,
  EXAMPLE_CAR_STATE,
  UNCHECKED_CAR_STATE,
} from '../../../core/sheet/carState.ts';

test('each item that is not checked, or not as agreed, is told', () => {
  expect(checkCarState(EXAMPLE_CAR_STATE, EXAMPLE_CAR_STATE)).toEqual([]);
  expect(checkCarState(UNCHECKED_CAR_STATE, EXAMPLE_CAR_STATE)).toHaveLength(13);
  expect(
    checkCarState({ ...EXAMPLE_CAR_STATE, fuelMass: 18, brakesFree: 'no' }, EXAMPLE_CAR_STATE).map(
      ({ text }) => text,
    ),
  ).toEqual(['Fuel on board: 18 kg, agreed 20 kg', 'Brakes free: no, agreed yes']);
});

test('nothing differs from what nobody agreed', () => {
  const weighed = { ...COMMON_CAR_STATE, seatMass: 76.5, fuelMass: 12 };
  expect(checkCarState(weighed, COMMON_CAR_STATE)).toEqual([]);
});

test('as agreed: what nothing is agreed of stays as it was found', () => {
  const found = { ...UNCHECKED_CAR_STATE, seatMass: 76.5 };
  expect(asAgreed(found, COMMON_CAR_STATE)).toEqual({ ...COMMON_CAR_STATE, seatMass: 76.5 });
  expect(asAgreed(found, EXAMPLE_CAR_STATE)).toEqual(EXAMPLE_CAR_STATE);
});
