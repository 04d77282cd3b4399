import { balance } from '../../../core/balance/balance.ts';
import type { BenchState, CornerLive, Frame, PadShown } from '../../../core/contract/events.ts';
import type { Capture } from '../../../core/contract/records.ts';
import { DEFAULT_SETTINGS } from '../../../core/contract/settings.ts';
import { perCorner, type Corner, type PerCorner } from '../../../core/corners.ts';
import { measured } from '../../../core/measured.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { EXAMPLE_CAR_STATE } from '../../../core/sheet/carState.ts';
import { EXAMPLE_VENUES } from '../../../core/sheet/venue.ts';

/** States and frames of a bench that is not there: the invented car, as a screen would be told of it. */

const GRAVITY = 9.813654;
/** Corner weights of the invented car, kg: design 6.1. */
export const EXAMPLE_MASSES: PerCorner<number> = {
  LF: 312.411,
  RF: 307.464,
  LR: 344.789,
  RR: 340.336,
};
export const SERIALS: PerCorner<string> = {
  LF: 'RIG-0001',
  RF: 'RIG-0002',
  LR: 'RIG-0003',
  RR: 'RIG-0004',
};
/** A wall-clock label well in the past, ms. */
const WALL = Date.UTC(2026, 4, 9, 14, 2);

const exampleBalance = (masses: PerCorner<number>, u: number) =>
  balance({
    forces: perCorner((corner) => measured(masses[corner] * GRAVITY, u * GRAVITY, 40)),
    gravity: GRAVITY,
    cross: 'RF+LR',
    wheelbase: EXAMPLE_CAR.wheelbase,
    trackFront: EXAMPLE_CAR.trackFront,
    trackRear: EXAMPLE_CAR.trackRear,
  });

/** A pad as it is shown while all is well. */
export const examplePad = (corner: Corner | null, serial: string): PadShown => ({
  key: `key ${serial}`,
  serial,
  name: `Pad ${serial.slice(-2)}`,
  model: 'corner pad',
  firmware: '1.0.0',
  ratedLoad: 700,
  phase: 'live',
  phaseSince: 10,
  signal: -61,
  battery: 83,
  temperature: 21.4,
  rate: 80.02,
  received: 12_345,
  missing: 0,
  duplicates: 0,
  onFor: null,
  late: 0,
  faults: [],
  corner,
  calibrated: false,
  calibration: null,
  zero: { takenAt: WALL, counts: 8_401, u: 0.4, temperature: 21.2 },
  check: null,
});

/** The practice rig with its car on the pads. */
export const exampleState = (change: Partial<BenchState> = {}): BenchState => ({
  t: 100,
  wallAt: WALL + 60_000,
  source: 'rig',
  radio: 'on',
  radioFault: null,
  settings: { ...DEFAULT_SETTINGS, theme: 'daylight' },
  car: EXAMPLE_CAR,
  cars: [EXAMPLE_CAR],
  venue: EXAMPLE_VENUES[0]!,
  venues: [...EXAMPLE_VENUES],
  aside: [],
  gravity: GRAVITY,
  outing: { id: 'outing-1', name: 'Practice', begunAt: WALL },
  pads: (['LF', 'RF', 'LR', 'RR'] as const).map((corner) => examplePad(corner, SERIALS[corner])),
  assigned: SERIALS,
  zeros: perCorner(() => ({ takenAt: WALL, counts: 8_401, u: 0.4, temperature: 21.2 })),
  askingForPress: null,
  kept: 0,
  massSets: [],
  unfinished: [],
  calibrating: null,
  watched: null,
  padDescriptions: [],
  ballast: null,
  guests: { isOn: false, guests: [] },
  copies: {
    isAvailable: true,
    folder: null,
    lastAt: null,
    isBehind: true,
    underWay: null,
    trouble: null,
  },
  carState: EXAMPLE_CAR_STATE,
  agreedCarState: EXAMPLE_CAR_STATE,
  captures: [],
  practice: {
    car: 'on the pads',
    leaning: false,
    turns: { LF: 0, RF: 0, LR: 0, RR: 0 },
    masses: {},
    stack: null,
    runs: 0,
  },
  faults: [],
  ...change,
});

/** A corner as it is while settled. */
export const exampleCorner = (corner: Corner, change: Partial<CornerLive> = {}): CornerLive => ({
  status: 'live',
  age: 0.01,
  mass: EXAMPLE_MASSES[corner],
  stillness: 'settled',
  mean: EXAMPLE_MASSES[corner],
  u: 0.021,
  overload: false,
  calibrated: false,
  zeroed: true,
  t: [],
  kg: [],
  ...change,
});

/** A frame of the settled car, changed corner by corner and as a whole. */
export const exampleFrame = (
  change: Partial<Frame> = {},
  corners: (corner: Corner) => Partial<CornerLive> = () => ({}),
): Frame => ({
  no: 1,
  early: null,
  onePad: null,
  t: 100,
  corners: perCorner((corner) => exampleCorner(corner, corners(corner))),
  stillness: 'settled',
  settledFor: 4.2,
  balance: exampleBalance(EXAMPLE_MASSES, 0.021),
  notReady: null,
  ...change,
});

/** A stored capture of the invented car, with this much more on the right front and left rear. */
export const exampleCapture = (number: number, more = 0): Capture => {
  const masses: PerCorner<number> = {
    LF: EXAMPLE_MASSES.LF - more,
    RF: EXAMPLE_MASSES.RF + more,
    LR: EXAMPLE_MASSES.LR + more,
    RR: EXAMPLE_MASSES.RR - more,
  };
  const made = exampleBalance(masses, 0.021);
  if (!made) throw new Error('the example car makes a balance');
  return {
    id: `capture-${number}`,
    sessionId: 'outing-1',
    carId: EXAMPLE_CAR.id,
    carName: EXAMPLE_CAR.name,
    venueId: EXAMPLE_VENUES[0]!.id,
    venueName: EXAMPLE_VENUES[0]!.name,
    takenAt: WALL + number * 300_000,
    phase: 'set-up',
    number,
    note: '',
    practice: true,
    gravity: GRAVITY,
    windowSeconds: 2,
    corners: perCorner((corner) => ({
      padSerial: SERIALS[corner],
      calibrationId: null,
      calibrated: false,
      zeroId: 'zero-1',
      zeroCounts: 8_401,
      force: measured(masses[corner] * GRAVITY, 0.021 * GRAVITY, 40),
      mass: measured(masses[corner], 0.021, 40),
      samples: 160,
      effectiveSamples: 40,
      slope: 0.001,
      spikes: 0,
      temperature: 21.3,
    })),
    covariance: Array.from({ length: 16 }, (_, at) => (at % 5 === 0 ? (0.021 * GRAVITY) ** 2 : 0)),
    balance: made,
    carState: EXAMPLE_CAR_STATE,
    carStateNotes: [],
    zeroShift: null,
    setAside: false,
  };
};
