import type { Remembered, StorePort } from '../core/bench/storePort.ts';
import type { Outcome } from '../core/bench/ports.ts';
import type { Fault } from '../core/faults.ts';

const NOTHING: Remembered = {
  settings: null,
  cars: [],
  venues: [],
  carId: null,
  venueId: null,
  carState: null,
  agreedCarState: null,
  source: null,
  outing: null,
  practiceOuting: null,
  assigned: new Map(),
  zeros: new Map(),
};

/**
 * Stands where a database could not be opened: it remembers nothing and refuses every write with
 * the fault that says why. So the loads can still be read, and nobody believes that a capture was
 * kept.
 */
export const createUnavailableStore = (
  fault: Fault,
): StorePort & { readonly inPlace: null; readonly close: () => void } => {
  const refused: Outcome = { ok: false, fault };
  const refuse = (): Outcome => refused;
  return {
    load: () => NOTHING,
    saveSettings: refuse,
    saveSource: refuse,
    saveCar: refuse,
    saveVenue: refuse,
    saveCarState: refuse,
    beginOuting: refuse,
    assign: refuse,
    saveZero: refuse,
    zerosOf: () => [],
    saveCalibration: refuse,
    calibrationsOf: () => [],
    keep: refuse,
    kept: () => [],
    saveCapture: refuse,
    noteZeroShift: refuse,
    setAside: refuse,
    captures: () => [],
    capturesById: () => [],
    openCapture: () => null,
    record: refuse,
    faults: [fault],
    inPlace: null,
    close: () => undefined,
  };
};
