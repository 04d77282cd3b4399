import { balance } from '../balance/balance.ts';
import { forcePerCount, toForce, type Calibration } from '../calibration/calibration.ts';
import type { Balance, Capture, RawWindow } from '../contract/records.ts';
import { CORNERS, perCorner, type PerCorner } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import { averageFour } from '../signal/averageFour.ts';
import { effectiveDof } from '../uncertainty/combine.ts';
import { newton, type Newton } from '../units.ts';

/** A zero as it was taken, counts. */
export interface ZeroUsed {
  readonly counts: number;
  readonly u: number;
  readonly dof: number;
}

export interface ForcesOfWindow {
  readonly forces: PerCorner<Measured<Newton>>;
  /** N², row by row in the order LF, RF, LR, RR: scatter of the window and of the zeros. */
  readonly covariance: readonly number[];
}

const median = (values: readonly number[]): number => {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? Number.NaN;
};

/** The samples without the lone spikes that were left out when it was captured: those farthest off. */
const withoutSpikes = (raw: readonly number[], spikes: number): readonly boolean[] => {
  const middle = median(raw);
  const farthest = new Set(
    raw
      .map((counts, index) => ({ index, off: Math.abs(counts - middle) }))
      .toSorted((a, b) => b.off - a.off)
      .slice(0, spikes)
      .map(({ index }) => index),
  );
  return raw.map((_, index) => !farthest.has(index));
};

/** What a raw window means with these calibrations; null where it is too short. */
const forcesOfWindow = (
  window: RawWindow,
  about: {
    readonly calibrations: PerCorner<Calibration>;
    readonly zeros: PerCorner<ZeroUsed>;
    readonly spikes: PerCorner<number>;
  },
): ForcesOfWindow | null => {
  const { calibrations, zeros, spikes } = about;
  const four = averageFour(
    perCorner((corner) => {
      const { t, raw } = window[corner];
      const isKept = withoutSpikes(raw, spikes[corner]);
      return {
        t: t.filter((_, index) => isKept[index]),
        x: raw
          .filter((_, index) => isKept[index])
          .map((counts) => toForce(calibrations[corner], zeros[corner].counts, counts)),
      };
    }),
  );
  if (!four) return null;
  const covariance = [...four.covariance];
  const zeroU = perCorner(
    (corner) =>
      Math.abs(forcePerCount(calibrations[corner], zeros[corner].counts, zeros[corner].counts)) *
      zeros[corner].u,
  );
  CORNERS.forEach((corner, index) => {
    covariance[5 * index] = (covariance[5 * index] ?? 0) + zeroU[corner] ** 2;
  });
  return {
    covariance,
    forces: perCorner((corner) => {
      const { mean, u, dof } = four.corners[corner];
      const zero = { u: zeroU[corner], dof: zeros[corner].dof };
      return measured(newton(mean), Math.hypot(u, zero.u), effectiveDof([{ u, dof }, zero]));
    }),
  };
};

export interface Recomputed {
  /** kg at the gravity of the capture. */
  readonly masses: PerCorner<Measured>;
  readonly balance: Balance;
}

/** What a capture would be with other calibrations, from its raw counts; null where that fails. */
export const recompute = (
  capture: Capture,
  window: RawWindow,
  about: {
    readonly calibrations: PerCorner<Calibration>;
    readonly zeros: PerCorner<ZeroUsed>;
    readonly car: {
      readonly wheelbase: number;
      readonly trackFront: number;
      readonly trackRear: number;
    };
  },
): Recomputed | null => {
  const made = forcesOfWindow(window, {
    calibrations: about.calibrations,
    zeros: about.zeros,
    spikes: perCorner((corner) => capture.corners[corner].spikes),
  });
  const { gravity } = capture;
  const found = made && balance({ ...made, gravity, cross: capture.balance.cross, ...about.car });
  return (
    found && {
      balance: found,
      masses: perCorner((corner) => {
        const { value, u, dof } = made.forces[corner];
        return measured(value / gravity, u / gravity, dof);
      }),
    }
  );
};
