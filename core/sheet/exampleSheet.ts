import { EXAMPLE_CAR } from './car.ts';
import { EXAMPLE_CAR_STATE } from './carState.ts';
import { WORK_STEPS } from './orderOfWork.ts';
import type { SetUpSheet, SheetLine } from './setUpSheet.ts';

const DEGREE = Math.PI / 180;

const line = (
  item: string,
  target: number | null,
  tolerance: number | null,
  unit: string | null = null,
): SheetLine => ({ item, target, tolerance, unit });

/** The set-up sheet of the invented car: level, as its data have it standing. Every number made up. */
export const EXAMPLE_SHEET: SetUpSheet = {
  id: '0190a0c0-0000-7000-8000-000000000201',
  lineageId: '0190a0c0-0000-7000-8000-000000000200',
  number: 1,
  name: 'Base set-up',
  carId: EXAMPLE_CAR.id,
  copiedFrom: null,
  changed: '',
  writtenAt: 1_764_000_000_000,
  who: 'race engineer',
  cross: 'RF+LR',
  lines: [
    line('weight.LF', 312.4, 1),
    line('weight.RF', 307.5, 1),
    line('weight.LR', 344.8, 1),
    line('weight.RR', 340.3, 1),
    line('total', 1305, 1),
    line('frontShare', 0.475, 0.002),
    line('crossShare', 0.5, 0.002),
    line('height.LF', 0.065, 0.0005),
    line('height.RF', 0.065, 0.0005),
    line('height.LR', 0.0724, 0.0005),
    line('height.RR', 0.0724, 0.0005),
    line('rake', 0.01, 0.0007),
    ...(['LF', 'RF'] as const).map((corner) => line(`camber.${corner}`, -3 * DEGREE, 0.1 * DEGREE)),
    ...(['LR', 'RR'] as const).map((corner) => line(`camber.${corner}`, -2 * DEGREE, 0.1 * DEGREE)),
    ...(['LF', 'RF'] as const).map((corner) =>
      line(`toe.${corner}`, -0.05 * DEGREE, 0.02 * DEGREE, '′'),
    ),
    ...(['LR', 'RR'] as const).map((corner) =>
      line(`toe.${corner}`, 0.1 * DEGREE, 0.02 * DEGREE, '′'),
    ),
    line('thrust', 0, 0.03 * DEGREE, '′'),
    ...(['LF', 'RF'] as const).map((corner) => line(`caster.${corner}`, 8 * DEGREE, 0.2 * DEGREE)),
    line('driver', 80, 0.5),
    line('fuel', 20, 0.5),
  ],
  extras: [],
  state: EXAMPLE_CAR_STATE,
  represented: { driver: 'dummy', fuel: 'fuel', ballast: 'fixed in its places' },
  order: [...WORK_STEPS],
  notes: '',
  released: null,
};
