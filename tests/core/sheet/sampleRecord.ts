import { balance } from '../../../core/balance/balance.ts';
import type { Capture, CrossDiagonal } from '../../../core/contract/records.ts';
import { perCorner, type PerCorner } from '../../../core/corners.ts';
import { EXAMPLE_CAR, type Car } from '../../../core/sheet/car.ts';
import {
  beginRecord,
  withEntry,
  type CarRecord,
  type Gauge,
  type Reading,
  type Work,
} from '../../../core/sheet/carRecord.ts';
import { EXAMPLE_CAR_STATE } from '../../../core/sheet/carState.ts';
import { EXAMPLE_SHEET } from '../../../core/sheet/exampleSheet.ts';
import { itemsById, itemsOf } from '../../../core/sheet/items.ts';
import type { ValueSources } from '../../../core/sheet/itemValue.ts';
import type { WorkKind } from '../../../core/sheet/orderOfWork.ts';
import { tiesOf } from '../../../core/sheet/ties.ts';

/** Records made from a few numbers, for the tests of the sheets. */

export const GRAVITY = 9.813654;

export const RULE: Gauge = {
  id: 'rule',
  name: 'steel rule',
  quantity: 'length',
  resolution: 0.0005,
  scatter: { u: 0.0003, dof: 8 },
  shared: { u: 0.0002, dof: Infinity },
};
export const CAMBER_GAUGE: Gauge = {
  id: 'camber',
  name: 'camber gauge',
  quantity: 'angle',
  resolution: 0.0002,
  scatter: null,
  shared: null,
};
export const SCALE: Gauge = {
  id: 'scale',
  name: 'toe scale',
  quantity: 'angle',
  resolution: 1e-6,
  scatter: { u: 2e-4, dof: Infinity },
  shared: { u: 3e-4, dof: Infinity },
};
export const STATED: Gauge = {
  id: 'stated',
  name: 'poured in',
  quantity: 'mass',
  resolution: 0.1,
  scatter: { u: 0.1, dof: Infinity },
  shared: { u: 0, dof: Infinity },
};

export const freshRecord = (changes: Partial<CarRecord> = {}): CarRecord => ({
  ...beginRecord({
    id: 'record-1',
    phase: 'set-up',
    carId: EXAMPLE_CAR.id,
    outingId: null,
    venueId: null,
    surveyId: 'survey-1',
    laying: 1,
    begunAt: 1_764_000_000_000,
    practice: false,
    state: EXAMPLE_CAR_STATE,
    walk: [],
    sheet: EXAMPLE_SHEET,
  }),
  ...changes,
});

/** One more reading; the next id follows from how many entries there are. */
export const read = (
  record: CarRecord,
  about: Pick<Reading, 'item' | 'value'> & { readonly gauge: Gauge } & Partial<
      Omit<Reading, 'gauge'>
    >,
): CarRecord => {
  const { gauge, ...rest } = about;
  return withEntry(
    record,
    {
      is: 'reading',
      id: `entry-${record.entries.length + 1}`,
      typed: '',
      datum: null,
      of: [],
      own: null,
      questioned: null,
      setAside: false,
      who: 'mechanic',
      at: 1_764_000_000_000 + record.entries.length,
      ...rest,
      gauge: gauge.id,
    },
    gauge,
  );
};

export const work = (record: CarRecord, what: WorkKind, changes: Partial<Work> = {}): CarRecord =>
  withEntry(record, {
    is: 'work',
    id: `entry-${record.entries.length + 1}`,
    what,
    corner: null,
    axle: null,
    part: null,
    amount: null,
    note: '',
    who: '',
    at: 0,
    ...changes,
  });

export const weighed = (record: CarRecord, captureId: string, repeat = false): CarRecord =>
  withEntry(record, {
    is: 'capture',
    id: `entry-${record.entries.length + 1}`,
    captureId,
    repeat,
    setAside: false,
    at: 0,
  });

/** A capture of the example car with these corner weights, kg, each known to 20 g by 30 readings. */
export const captureOf = (
  id: string,
  weights: PerCorner<number>,
  cross: CrossDiagonal = 'RF+LR',
): Capture => {
  const forces = perCorner((corner) => ({
    value: weights[corner] * GRAVITY,
    u: 0.02 * GRAVITY,
    dof: 30,
  }));
  const found = balance({ ...EXAMPLE_CAR, forces, gravity: GRAVITY, cross });
  if (!found) throw new Error('nothing on the pads');
  return {
    id,
    sessionId: 'outing-1',
    carId: EXAMPLE_CAR.id,
    carName: EXAMPLE_CAR.name,
    venueId: 'venue-1',
    venueName: 'Larkfell',
    takenAt: 1_764_000_000_000,
    phase: 'set-up',
    number: 1,
    note: '',
    practice: false,
    gravity: GRAVITY,
    windowSeconds: 4,
    corners: perCorner((corner) => ({
      padSerial: `pad-${corner}`,
      calibrationId: null,
      calibrated: true,
      zeroId: null,
      zeroCounts: null,
      force: forces[corner],
      mass: { value: weights[corner], u: 0.02, dof: 30 },
      samples: 320,
      effectiveSamples: 100,
      slope: 0,
      spikes: 0,
      temperature: null,
    })),
    covariance: Array.from({ length: 16 }, (_, i) => (i % 5 === 0 ? (0.02 * GRAVITY) ** 2 : 0)),
    balance: found,
    carState: EXAMPLE_CAR_STATE,
    carStateNotes: [],
    zeroShift: null,
    setAside: false,
  };
};

/** The example car, perches level: design check values (6.1), kg. */
export const LEVEL_WEIGHTS = { LF: 312.411, RF: 307.464, LR: 344.789, RR: 340.336 } as const;

export const sourcesOf = (
  record: CarRecord,
  captures: readonly Capture[] = [],
  about: { readonly car?: Car; readonly cross?: CrossDiagonal } = {},
): ValueSources => {
  const { car = EXAMPLE_CAR, cross = 'RF+LR' } = about;
  return {
    record,
    items: itemsById(itemsOf(car, record.extras)),
    ties: tiesOf(car, cross),
    captures: new Map(captures.map((capture) => [capture.id, capture])),
    cross,
  };
};
