import type { Corner } from '../corners.ts';

/**
 * The survey of a flat patch as it was read: which points, from where, what the staff said. Plain
 * data; nothing in it is corrected or left out, and what is computed from it names sights by their
 * place in the list. Lengths in metre, axes after ISO 8855 (x forward, y left, z up).
 */
export interface LevelSurvey {
  readonly points: readonly SurveyPoint[];
  readonly setUps: readonly SetUp[];
  readonly sights: readonly Sight[];
  readonly instrument: Instrument;
  /**
   * Standard deviation of one sight as known from before, and the degrees of freedom of that
   * knowledge (Infinity where it is taken as sure); null where the repeats of this survey must tell.
   */
  readonly sightScatter: { readonly sd: number; readonly dof: number } | null;
}

/** Where the staff is stood. */
export interface SurveyPoint {
  readonly id: string;
  /** The pad it lies on; null for a mark on the ground beside, which ties set-ups and days together. */
  readonly pad: Corner | null;
  /** On a pad from the pad's centre, where the wheel stands; a mark from below the front axle's middle. */
  readonly x: number;
  readonly y: number;
}

/** One standing of the instrument. */
export interface SetUp {
  readonly id: string;
  /** Where it stands, from below the front axle's middle; null where nobody measured it. */
  readonly place: { readonly x: number; readonly y: number } | null;
}

/** One reading; null where it was left out. Repeats of a point are sights of their own. */
export interface Sight {
  readonly setUp: string;
  readonly point: string;
  readonly reading: number | null;
}

export interface Instrument {
  /** A staff read at a light or line of sight (higher ground reads less), or heights (reads more). */
  readonly reads: 'staff' | 'height';
  /** Length of the staff, for what was read upside down; null where not known. */
  readonly staffLength: number | null;
  /** Smallest step in which readings are written down; 0 where it is far below the scatter. */
  readonly step: number;
  /**
   * Error that grows with the distance to the instrument, the cone of a turning laser or the
   * collimation of a level: standard uncertainty in metre per metre, `unknown` to find it from the
   * sights, null where nobody knows and it is left out of every uncertainty.
   */
  readonly cone: number | 'unknown' | null;
  /** Standard uncertainty of the plane's tilt, radian about each axis, new at each set-up; null as above. */
  readonly tilt: number | null;
}

/** What was noticed in a survey; `sights` are places in its list. Nothing is ever deleted. */
export interface SurveyFinding {
  readonly code: FindingCode;
  readonly what: string;
  readonly next: string;
  readonly sights: readonly number[];
}

export type FindingCode =
  /** A sight without a reading: left out, as it has to be. */
  | 'missing sight'
  /** Readings that belong to another unit or another end of the staff. */
  | 'wrong unit'
  | 'upside down'
  /** A reading that no patch explains, or one that does not fit the rest. */
  | 'outlier'
  /** A point, or a whole pad, that lies at two heights in two set-ups. */
  | 'moved'
  /** Staff points of one pad that lie in no plane, beyond what repeats scatter. */
  | 'uneven pad'
  /** Scatter that is not what was stated, either way. */
  | 'scatter'
  /** Loops of set-ups that do not close. */
  | 'closing error'
  /** One or two points that miss the place where the wheel stands. */
  | 'beside the wheel'
  /** Errors of the instrument that no uncertainty holds, as nobody knows their size or distance. */
  | 'not counted';

/** Why a survey gives no heights, in words that say what to do. The survey itself stays as it is. */
export interface SurveyRefusal {
  readonly ok: false;
  readonly code:
    | 'not a survey'
    | 'no sight'
    | 'not connected'
    | 'not determined'
    | 'no scatter'
    | 'wrong unit'
    | 'upside down'
    | 'too many outliers';
  readonly why: string;
  readonly next: string;
  /** What was noticed on the way. */
  readonly findings: readonly SurveyFinding[];
}
