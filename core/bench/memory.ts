import type { Capture } from '../contract/records.ts';
import { DEFAULT_SETTINGS, type Settings } from '../contract/settings.ts';
import { CORNERS, perCorner, type Corner, type PerCorner } from '../corners.ts';
import type { Fault } from '../faults.ts';
import { EXAMPLE_CAR, type Car } from '../sheet/car.ts';
import {
  COMMON_CAR_STATE,
  EXAMPLE_CAR_STATE,
  UNCHECKED_CAR_STATE,
  type CarState,
} from '../sheet/carState.ts';
import { EXAMPLE_VENUES, type Venue } from '../sheet/venue.ts';
import type { Outcome, PadSource } from './ports.ts';
import type { Outing, StorePort, ZeroRecord } from './storePort.ts';

/**
 * What the bench remembers between starts, held in hand and written through: a change is on the
 * disk, or was refused with its fault, before anything here shows it.
 */
export interface Memory {
  readonly settings: Settings;
  readonly cars: readonly Car[];
  readonly car: Car;
  readonly venues: readonly Venue[];
  readonly venue: Venue;
  readonly carState: CarState;
  readonly agreedCarState: CarState;
  readonly source: PadSource | null;
  readonly outing: Outing;
  /** Of the current outing, newest first. */
  readonly captures: readonly Capture[];
  /** Serial number of each corner's pad. */
  readonly assigned: PerCorner<string | null>;
  cornerOf(padSerial: string): Corner | null;
  zeroOf(padSerial: string): ZeroRecord | null;

  changeSettings(settings: Settings): Outcome;
  chooseSource(source: PadSource): Outcome;
  useCar(car: Car): Outcome;
  useVenue(venue: Venue): Outcome;
  setCarState(state: CarState): Outcome;
  agreeCarState(agreed: CarState): Outcome;
  beginOuting(name: string): Outcome;
  assign(padSerial: string, corner: Corner | null): Outcome;
  addZeros(zeros: readonly ZeroRecord[]): Outcome;
  addCapture(capture: Capture, window: Parameters<StorePort['saveCapture']>[1]): Outcome;
  noteZeroShift(captureId: string, shift: PerCorner<number | null>): Outcome;
  setAside(captureId: string, aside: boolean): Outcome;
}

export interface MemoryPorts {
  readonly store: StorePort;
  readonly wallClock: () => number;
  readonly newId: () => string;
  /** Told of what could not be stored where no command waits for the answer. */
  readonly report: (fault: Fault) => void;
}

/** Anything but the radio is practice: a rig or a recording never mixes with real records. */
const isPractice = (source: PadSource | null): boolean => source !== 'bluetooth';

const firstFailure = (outcomes: Iterable<Outcome>): Outcome => {
  for (const outcome of outcomes) if (!outcome.ok) return outcome;
  return { ok: true };
};

/** Loads what the store remembers; what it lacks is the invented world of the demonstration. */
export const createMemory = ({ store, wallClock, newId, report }: MemoryPorts): Memory => {
  /**
   * What could not be stored when no command waited for it: stored before what refers to it, and
   * before what is chosen after it.
   */
  const owed: (() => Outcome)[] = [];
  const storeOrOwe = (write: () => Outcome): void => {
    const outcome = write();
    if (outcome.ok) return;
    report(outcome.fault);
    owed.push(write);
  };
  const storeOwed = (): Outcome => {
    for (let write = owed[0]; write; write = owed[0]) {
      const outcome = write();
      if (!outcome.ok) return outcome;
      owed.shift();
    }
    return { ok: true };
  };
  const afterOwed = (write: () => Outcome): Outcome => {
    const outcome = storeOwed();
    return outcome.ok ? write() : outcome;
  };
  if (store.load().cars.length === 0) {
    // The invented car and venues are records like any other: captures refer to them.
    storeOrOwe(() => store.saveCar(EXAMPLE_CAR));
    for (const each of EXAMPLE_VENUES.toReversed()) storeOrOwe(() => store.saveVenue(each));
  }
  const loaded = store.load();
  let settings = loaded.settings ?? DEFAULT_SETTINGS;
  let cars = loaded.cars.length > 0 ? [...loaded.cars] : [EXAMPLE_CAR];
  let venues = loaded.venues.length > 0 ? [...loaded.venues] : [...EXAMPLE_VENUES];
  let car = cars.find((each) => each.id === loaded.carId) ?? (cars[0] as Car);
  let venue = venues.find((each) => each.id === loaded.venueId) ?? (venues[0] as Venue);
  let source = loaded.source;
  /** How the car stands and what was agreed; in practice only until the program ends. */
  const states = {
    real: {
      now: loaded.carState ?? UNCHECKED_CAR_STATE,
      agreed: loaded.agreedCarState ?? COMMON_CAR_STATE,
    },
    practice: { now: EXAMPLE_CAR_STATE, agreed: EXAMPLE_CAR_STATE },
  };
  const world = (): 'practice' | 'real' => (isPractice(source) ? 'practice' : 'real');
  const keepState = (next: (typeof states)['real']): Outcome => {
    const which = world();
    const keep = (): void => void (states[which] = next);
    if (which === 'real') return when(store.saveCarState(next.now, next.agreed), keep);
    keep();
    return { ok: true };
  };
  const assigned = new Map(loaded.assigned);
  const zeros = new Map(loaded.zeros);
  const outings = { real: loaded.outing, practice: loaded.practiceOuting };
  let captures: Capture[] = [];

  /** The outing of the current source; made and stored when it is first needed. */
  const outing = (): Outing => {
    const which = world();
    const known = outings[which];
    if (known) return known;
    const practice = which === 'practice';
    const made: Outing = {
      id: newId(),
      name: practice ? 'Practice' : 'First outing',
      begunAt: wallClock(),
      practice,
    };
    storeOrOwe(() => store.beginOuting(made));
    outings[which] = made;
    return made;
  };
  const reloadCaptures = (): void => {
    captures = [...store.captures(outing().id)];
  };
  reloadCaptures();

  const replaced = <T extends { readonly id: string }>(list: readonly T[], one: T): T[] =>
    list.some((each) => each.id === one.id)
      ? list.map((each) => (each.id === one.id ? one : each))
      : [...list, one];

  const when = (outcome: Outcome, then: () => void): Outcome => {
    if (outcome.ok) then();
    return outcome;
  };

  return {
    get settings() {
      return settings;
    },
    get cars() {
      return cars;
    },
    get car() {
      return car;
    },
    get venues() {
      return venues;
    },
    get venue() {
      return venue;
    },
    get carState() {
      return states[world()].now;
    },
    get agreedCarState() {
      return states[world()].agreed;
    },
    get source() {
      return source;
    },
    get outing() {
      return outing();
    },
    get captures() {
      return captures;
    },
    get assigned() {
      return perCorner((corner) => {
        for (const [padSerial, its] of assigned) if (its === corner) return padSerial;
        return null;
      });
    },
    cornerOf: (padSerial) => assigned.get(padSerial) ?? null,
    zeroOf: (padSerial) => zeros.get(padSerial) ?? null,

    changeSettings: (next) => when(store.saveSettings(next), () => (settings = next)),
    chooseSource: (next) =>
      when(store.saveSource(next), () => {
        source = next;
        reloadCaptures();
      }),
    useCar: (next) =>
      when(
        afterOwed(() => store.saveCar(next)),
        () => {
          cars = replaced(cars, next);
          car = next;
        },
      ),
    useVenue: (next) =>
      when(
        afterOwed(() => store.saveVenue(next)),
        () => {
          venues = replaced(venues, next);
          venue = next;
        },
      ),
    setCarState: (now) => keepState({ ...states[world()], now }),
    agreeCarState: (agreed) => keepState({ ...states[world()], agreed }),
    beginOuting: (name) => {
      const practice = isPractice(source);
      const made: Outing = { id: newId(), name, begunAt: wallClock(), practice };
      return when(
        afterOwed(() => store.beginOuting(made)),
        () => {
          outings[practice ? 'practice' : 'real'] = made;
          captures = [];
        },
      );
    },
    assign: (padSerial, corner) =>
      when(store.assign(padSerial, corner), () => {
        for (const [other, its] of assigned) if (its === corner) assigned.delete(other);
        if (corner) assigned.set(padSerial, corner);
        else assigned.delete(padSerial);
      }),
    addZeros: (taken) =>
      firstFailure(
        taken.map((zero) => when(store.saveZero(zero), () => zeros.set(zero.padSerial, zero))),
      ),
    addCapture: (capture, window) =>
      when(
        afterOwed(() => store.saveCapture(capture, window)),
        () => {
          captures = [capture, ...captures];
        },
      ),
    noteZeroShift: (captureId, shift) =>
      when(store.noteZeroShift(captureId, shift), () => {
        captures = captures.map((each) =>
          each.id === captureId ? { ...each, zeroShift: shift } : each,
        );
      }),
    setAside: (captureId, aside) =>
      when(store.setAside(captureId, aside), () => {
        captures = captures.map((each) =>
          each.id === captureId ? { ...each, setAside: aside } : each,
        );
      }),
  };
};

/** The corners that have no pad yet, in order. */
export const cornersWithoutPad = (assigned: PerCorner<string | null>): readonly Corner[] =>
  CORNERS.filter((corner) => assigned[corner] === null);
