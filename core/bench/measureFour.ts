import { forcePerCount } from '../calibration/calibration.ts';
import type { RawWindow } from '../contract/records.ts';
import { CORNERS, perCorner, type Corner, type PerCorner } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import type { Average } from '../signal/average.ts';
import type { RingPart } from '../ring.ts';
import { averageFour } from '../signal/averageFour.ts';
import { commonWindow } from '../signal/commonWindow.ts';
import { effectiveDof } from '../uncertainty/combine.ts';
import { newton, type Newton } from '../units.ts';
import { feedForce, type PadFeed } from './padFeed.ts';

/**
 * The four corners measured over one window of time: forces with their joint uncertainty, from
 * noise and from the zeros, and the raw counts they were made of.
 */
export interface FourMeasured {
  readonly from: number;
  readonly to: number;
  readonly forces: PerCorner<Measured<Newton>>;
  /** N², row by row in the order LF, RF, LR, RR. */
  readonly covariance: readonly number[];
  readonly averages: PerCorner<Average>;
  readonly raw: RawWindow;
}

/** A hole longer than this within the window makes it useless, s. */
export const LONGEST_HOLE = 0.2;

/** The entries of a part of the feed's ring that are samples, with times as they are. */
const samplesOf = (feed: PadFeed, part: RingPart) => {
  const { ring } = feed;
  const samples = {
    t: [] as number[],
    raw: [] as number[],
    x: [] as number[],
    flags: [] as number[],
  };
  for (let cursor = part.from; cursor < part.to; cursor += 1) {
    const force = feedForce(feed, ring.valueAt('clean', cursor));
    if (force === null) continue;
    samples.t.push(ring.timeAt(cursor));
    samples.raw.push(ring.valueAt('raw', cursor));
    samples.x.push(force);
    samples.flags.push(ring.valueAt('flags', cursor));
  }
  return samples;
};

export type FourOutcome =
  | { readonly ok: true; readonly four: FourMeasured }
  /** The corner whose window has a hole too long, or null where there are too few samples in common. */
  | { readonly ok: false; readonly corner: Corner | null };

/** Measures the four feeds over [from, to], seconds of the host's monotonic clock. */
export const measureFour = (
  under: PerCorner<PadFeed>,
  { from, to }: { readonly from: number; readonly to: number },
): FourOutcome => {
  const common = commonWindow(
    perCorner((corner) => under[corner].ring.column('clean')),
    { from, to, maxGap: LONGEST_HOLE },
  );
  if (!common.ok) return { ok: false, corner: common.corner };
  const windows = perCorner((corner) => samplesOf(under[corner], common.parts[corner]));
  const four = averageFour(windows);
  if (!four) return { ok: false, corner: null };

  const zeroParts = perCorner((corner) => {
    const { calibration, zero } = under[corner];
    if (!calibration || !zero) return { u: 0, dof: Infinity };
    return {
      u: Math.abs(forcePerCount(calibration, zero.counts, zero.counts)) * zero.u,
      dof: zero.dof,
    };
  });
  const covariance = [...four.covariance];
  CORNERS.forEach((corner, index) => {
    covariance[5 * index] = (covariance[5 * index] ?? 0) + zeroParts[corner].u ** 2;
  });
  return {
    ok: true,
    four: {
      from,
      to,
      averages: four.corners,
      covariance,
      forces: perCorner((corner) => {
        const scatter = four.corners[corner];
        const zero = zeroParts[corner];
        return measured(
          newton(scatter.mean),
          Math.hypot(scatter.u, zero.u),
          effectiveDof([scatter, zero]),
        );
      }),
      raw: perCorner((corner) => ({
        t: windows[corner].t.map((t) => t - from),
        raw: windows[corner].raw,
      })),
    },
  };
};
