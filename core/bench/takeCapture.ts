import { EARLY_NOTE } from '../answers/captureChange.ts';
import { balance } from '../balance/balance.ts';
import type { Capture } from '../contract/records.ts';
import { perCorner, type PerCorner } from '../corners.ts';
import { checkCarState } from '../sheet/carState.ts';
import type { FourMeasured } from './measureFour.ts';
import type { Memory } from './memory.ts';
import type { PadFeed } from './padFeed.ts';

/** What a capture is labelled with. */
export interface CaptureLabels {
  readonly id: string;
  /** Wall clock, ms. */
  readonly takenAt: number;
  readonly phase: Capture['phase'];
  readonly note: string;
}

/**
 * Makes the record of a capture from the four measured corners and everything they depend on; null
 * where the pads carry nothing that could be balanced.
 */
export const takeCapture = (
  four: FourMeasured,
  under: PerCorner<PadFeed>,
  about: {
    readonly memory: Memory;
    readonly gravity: number;
    readonly labels: CaptureLabels;
    /** The car still moved: the forces are where it was going to settle. */
    readonly isEarly: boolean;
  },
): Capture | null => {
  const { memory, gravity, labels } = about;
  const { car, venue, outing, captures, carState, agreedCarState } = memory;
  const found = balance({
    forces: four.forces,
    covariance: four.covariance,
    gravity,
    cross: memory.settings.cross,
    wheelbase: car.wheelbase,
    trackFront: car.trackFront,
    trackRear: car.trackRear,
  });
  if (!found) return null;
  return {
    ...labels,
    sessionId: outing.id,
    carId: car.id,
    carName: car.name,
    venueId: venue.id,
    venueName: venue.name,
    number: 1 + Math.max(0, ...captures.map((each) => each.number)),
    practice: outing.practice,
    gravity,
    windowSeconds: four.to - four.from,
    corners: perCorner((corner) => {
      const feed = under[corner];
      const force = four.forces[corner];
      const scatter = four.averages[corner];
      return {
        padSerial: feed.serial,
        calibrationId: feed.calibration?.id ?? null,
        calibrated: feed.calibration?.calibrated ?? false,
        zeroId: feed.zero?.id ?? null,
        zeroCounts: feed.zero?.counts ?? null,
        force,
        mass: { value: force.value / gravity, u: force.u / gravity, dof: force.dof },
        samples: scatter.samples,
        effectiveSamples: scatter.effectiveSamples,
        slope: scatter.slope / gravity,
        spikes: scatter.spikes,
        temperature: feed.status?.temperature ?? null,
      };
    }),
    covariance: [...four.covariance],
    balance: found,
    carState,
    carStateNotes: [
      ...(about.isEarly ? [EARLY_NOTE] : []),
      ...checkCarState(carState, agreedCarState).map((note) => note.text),
    ],
    zeroShift: null,
    setAside: false,
  };
};
