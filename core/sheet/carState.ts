import { z } from 'zod';

/**
 * The state of the car: what must be agreed before a weight means anything. Two records in
 * different states are corrected or not compared. The list is common practice, no source.
 */

const yesNo = z.enum(['yes', 'no', 'not checked']);

export const carStateSchema = z.strictObject({
  /** Mass on the driver's seat, driver or dummy, kg; null is not checked. */
  seatMass: z.number().min(0).max(300).nullable(),
  /** Fuel on board, kg; null is not checked. */
  fuelMass: z.number().min(0).max(500).nullable(),
  wheels: z.enum(['set-up wheels', 'tyres', 'not checked']),
  fluidsFull: yesNo,
  barsFree: yesNo,
  dampersAsAgreed: yesNo,
  packersClear: yesNo,
  droopStopsClear: yesNo,
  steeringPinned: yesNo,
  brakesFree: yesNo,
  gearboxNeutral: yesNo,
  bodyworkOn: yesNo,
  nobodyTouching: yesNo,
});

export type CarState = z.infer<typeof carStateSchema>;
export type CarStateItem = keyof CarState;

/** The items in the order people walk round the car, with their words. */
export const CAR_STATE_ITEMS: readonly { readonly item: CarStateItem; readonly label: string }[] = [
  { item: 'wheels', label: 'Wheels' },
  { item: 'seatMass', label: 'Driver or dummy mass in the seat' },
  { item: 'fuelMass', label: 'Fuel on board' },
  { item: 'fluidsFull', label: 'Fluids full' },
  { item: 'barsFree', label: 'Anti-roll bars off or at zero preload' },
  { item: 'dampersAsAgreed', label: 'Dampers as agreed' },
  { item: 'packersClear', label: 'Packers clear' },
  { item: 'droopStopsClear', label: 'Droop stops not reached' },
  { item: 'steeringPinned', label: 'Steering centred and pinned' },
  { item: 'brakesFree', label: 'Brakes free' },
  { item: 'gearboxNeutral', label: 'Gearbox in neutral' },
  { item: 'bodyworkOn', label: 'Skirts and doors on' },
  { item: 'nobodyTouching', label: 'Nobody touching the car' },
];

/** What a crew agrees before it has said anything else: common practice, no source. Masses are its own. */
export const COMMON_CAR_STATE: CarState = {
  seatMass: null,
  fuelMass: null,
  wheels: 'set-up wheels',
  fluidsFull: 'yes',
  barsFree: 'yes',
  dampersAsAgreed: 'yes',
  packersClear: 'yes',
  droopStopsClear: 'yes',
  steeringPinned: 'yes',
  brakesFree: 'yes',
  gearboxNeutral: 'yes',
  bodyworkOn: 'yes',
  nobodyTouching: 'yes',
};

/** What the crew of the invented car has agreed: the defaults of the demonstration. */
export const EXAMPLE_CAR_STATE: CarState = { ...COMMON_CAR_STATE, seatMass: 80, fuelMass: 20 };

/** A state of which nothing was checked yet. */
export const UNCHECKED_CAR_STATE: CarState = {
  seatMass: null,
  fuelMass: null,
  wheels: 'not checked',
  fluidsFull: 'not checked',
  barsFree: 'not checked',
  dampersAsAgreed: 'not checked',
  packersClear: 'not checked',
  droopStopsClear: 'not checked',
  steeringPinned: 'not checked',
  brakesFree: 'not checked',
  gearboxNeutral: 'not checked',
  bodyworkOn: 'not checked',
  nobodyTouching: 'not checked',
};

export interface CarStateNote {
  readonly item: CarStateItem;
  readonly kind: 'not checked' | 'differs';
  /** One line for the log: what is so and what was agreed. */
  readonly text: string;
}

const shown = (value: CarState[CarStateItem]): string =>
  value === null ? 'not checked' : typeof value === 'number' ? `${value} kg` : value;

const isSaid = (value: CarState[CarStateItem]): boolean =>
  value !== null && value !== 'not checked';

/** The state with everything as agreed; what nothing is agreed of stays as it is. */
export const asAgreed = (now: CarState, agreed: CarState): CarState => ({
  ...now,
  ...Object.fromEntries(Object.entries(agreed).filter(([, value]) => isSaid(value))),
});

/**
 * Compares a state with the agreed one, item by item; nothing differs from what was not agreed. An
 * empty list means: as agreed. A capture is
 * never refused for it; the notes are stored with the capture and shown beside its numbers.
 */
export const checkCarState = (now: CarState, agreed: CarState): readonly CarStateNote[] =>
  CAR_STATE_ITEMS.flatMap(({ item, label }): CarStateNote[] => {
    const value = now[item];
    if (!isSaid(value)) return [{ item, kind: 'not checked', text: `${label}: not checked` }];
    if (value === agreed[item] || !isSaid(agreed[item])) return [];
    return [
      { item, kind: 'differs', text: `${label}: ${shown(value)}, agreed ${shown(agreed[item])}` },
    ];
  });
