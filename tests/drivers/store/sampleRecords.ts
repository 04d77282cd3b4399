import type { RawChunk, ZeroRecord } from '../../../core/bench/storePort.ts';
import { ratingRecord } from '../../../core/calibration/useRecord.ts';
import type { CalibrationRecord } from '../../../core/contract/calibrationRecord.ts';
import type { Kept, KeptOf } from '../../../core/contract/kept.ts';
import type { Capture, RawWindow } from '../../../core/contract/records.ts';
import { perCorner } from '../../../core/corners.ts';
import { second, type Second } from '../../../core/units.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { EXAMPLE_CAR_STATE } from '../../../core/sheet/carState.ts';
import { EXAMPLE_VENUES, type Venue } from '../../../core/sheet/venue.ts';
import { openStore } from '../../../drivers/store/open.ts';
import type { Store } from '../../../drivers/store/store.ts';

/** Records for the store's tests: made from a number alone, so that a reader can make them again. */

export const WALL = 1_700_000_000_000;
export const VENUE = EXAMPLE_VENUES[0] as Venue;
export const OUTING = {
  id: idOf(0x100),
  name: 'First outing',
  begunAt: WALL,
  practice: false,
} as const;

/** A UUIDv7 that ends in a number. */
export function idOf(n: number): string {
  return `0190a0c0-0000-7000-9000-${n.toString(16).padStart(12, '0')}`;
}

/** A new id each time; `space` keeps the ids of two of them apart. */
export const idMaker = (space: number): (() => string) => {
  let n = space * 2 ** 32;
  return () => idOf((n += 1));
};

/** Numbers in [0, 1), the same for the same seed (mulberry32, public domain). */
export const seeded = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
};

export const sampleZero = (n: number, padSerial: string): ZeroRecord => ({
  id: idOf(0x200 + n),
  padSerial,
  takenAt: WALL + n,
  counts: 8_388_607.25 - n,
  u: 0.75,
  dof: n % 2 === 0 ? Infinity : 31.5,
  temperature: n % 2 === 0 ? null : 21.5,
});

/** Four seconds at 80 Hz of 24-bit counts, different for each capture and corner. */
export const sampleWindow = (n: number): RawWindow =>
  perCorner((_corner, index) => {
    const random = seeded(1000 * n + index);
    const t = Array.from({ length: 320 }, (_, i) => i / 80 + random() * 1e-4);
    return { t, raw: t.map(() => Math.floor((random() - 0.5) * 2 ** 24)) };
  });

export const sampleCapture = (n: number, changes: Partial<Capture> = {}): Capture => {
  const random = seeded(n);
  const measured = (about: number, dof = Infinity) => ({
    value: about * (1 + 0.01 * random()),
    u: random() + 1e-9,
    dof,
  });
  return {
    id: idOf(0x1000 + n),
    sessionId: OUTING.id,
    carId: EXAMPLE_CAR.id,
    carName: EXAMPLE_CAR.name,
    venueId: VENUE.id,
    venueName: VENUE.name,
    takenAt: WALL + 1000 * n,
    phase: 'set-down',
    number: n,
    note: 'after the long run; “tyres” 22 °C\n',
    practice: false,
    gravity: 9.813654,
    windowSeconds: 4,
    corners: perCorner((corner, index) => ({
      padSerial: `pad-${corner}`,
      calibrationId: null,
      calibrated: false,
      zeroId: index === 3 ? null : idOf(0x200 + index),
      zeroCounts: index === 3 ? null : 8_388_607.25 - index,
      force: measured(3000, 41.25),
      mass: measured(310, index === 0 ? Infinity : 12),
      samples: 320,
      effectiveSamples: 0.1 + 300 * random(),
      slope: -random() / 100,
      spikes: index,
      temperature: index === 1 ? null : 20.5,
    })),
    covariance: Array.from({ length: 16 }, () => random() - 0.5),
    balance: {
      total: measured(1305),
      front: measured(620, 7.5),
      rear: measured(685),
      left: measured(657),
      right: measured(648),
      frontShare: measured(0.475),
      leftShare: measured(0.503),
      crossShare: measured(0.5),
      cross: 'RF+LR',
      frontDifference: measured(5),
      rearDifference: measured(-4),
      diagonalDifference: measured(-0.5),
      cgBehindFrontAxle: measured(1.417),
      cgLeftOfCentre: measured(0.006),
    },
    carState: EXAMPLE_CAR_STATE,
    carStateNotes: ['Fuel on board: 18 kg, agreed 20 kg'],
    zeroShift: null,
    setAside: false,
    ...changes,
  };
};

export const sampleKept = (n: number, changes: Partial<KeptOf<'mass check'>> = {}): Kept => ({
  kind: 'mass check',
  id: idOf(0x3000 + n),
  subject: 'pad-LF',
  at: WALL + 1000 * n,
  practice: false,
  calibrationId: null,
  place: { venueId: VENUE.id, name: VENUE.name, gravity: 9.813654 },
  masses: ['20 kg A'],
  mass: { value: 20.000_5, u: null },
  force: { value: 196.3, u: 0.02, dof: Infinity },
  relative: 1e-4 * n,
  uReading: 1e-4,
  difference: 0.002,
  state: 'cannot tell',
  temperature: null,
  ...changes,
});

export const sampleCalibration = (
  n: number,
  replaces: string | null = null,
): CalibrationRecord => ({
  ...ratingRecord(
    { ratedLoad: 500, countsAtRatedLoad: 2 ** 22, resolution: 1 },
    {
      id: idOf(0x2000 + n),
      replaces,
      padSerial: 'pad-LF',
      madeAt: WALL + 1000 * n,
      practice: false,
      place: { venueId: VENUE.id, name: VENUE.name, gravity: 9.813654 },
    },
  ),
});

/** One second of four pads, `atSecond` seconds after WALL. */
export const sampleChunks = (atSecond: number, rate = 80): RawChunk[] =>
  ['LF', 'RF', 'LR', 'RR'].map((corner, pad) => ({
    padSerial: `pad-${corner}`,
    wallAt: WALL + 1000 * atSecond,
    from: second(5000 + atSecond),
    t: Float32Array.from({ length: rate }, (_, i) => i / rate),
    counts: Int32Array.from({ length: rate }, (_, i) => (pad - 2) * 2 ** 29 + atSecond * rate + i),
    gaps: [],
  }));

export const NOW: Second = second(42);

export const openingOf = (dir: string, space = 1) => ({
  dir,
  wallClock: () => WALL,
  newId: idMaker(space),
  now: () => NOW,
});

/** Opens a store that must open. */
export const openedStore = (dir: string, space = 1): Store => {
  const opened = openStore(openingOf(dir, space));
  if (!opened.ok) throw new Error(`${opened.fault.code}: ${opened.fault.detail}`);
  return opened.store;
};

/** Stores what every sample capture names. */
export const prepare = (store: Store): void => {
  const outcomes = [
    store.saveCar(EXAMPLE_CAR),
    store.saveVenue(VENUE),
    store.saveCarState(EXAMPLE_CAR_STATE, EXAMPLE_CAR_STATE),
    store.beginOuting(OUTING),
    ...['LF', 'RF', 'LR'].map((corner, n) => store.saveZero(sampleZero(n, `pad-${corner}`))),
  ];
  for (const outcome of outcomes) if (!outcome.ok) throw new Error(String(outcome.fault.detail));
};
