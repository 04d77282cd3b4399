import type { Capture } from '../../core/contract/records.ts';
import type { Corner } from '../../core/corners.ts';
import type { SqlNamed } from './database.ts';
import { fromJson } from './reading.ts';

/** A capture as the database has it, and the way there and back. Nothing is stored twice. */
export interface CaptureRow {
  readonly id: string;
  readonly session_id: string;
  readonly car_id: string;
  readonly car_name: string;
  readonly venue_id: string | null;
  readonly venue_name: string | null;
  readonly taken_at: number;
  readonly phase: string | null;
  readonly number: number;
  readonly note: string;
  readonly practice: number;
  readonly gravity: number;
  readonly window_seconds: number;
  readonly covariance: string;
  readonly balance: string;
  readonly car_state: string;
  readonly car_state_notes: string;
  readonly crc32: number | null;
}

export interface CornerRow {
  readonly corner: Corner;
  readonly pad_serial: string;
  readonly calibration_id: string | null;
  readonly calibrated: number;
  readonly zero_id: string | null;
  readonly zero_counts: number | null;
  readonly force: number;
  readonly force_u: number;
  readonly force_dof: number | null;
  readonly mass: number;
  readonly mass_u: number;
  readonly mass_dof: number | null;
  readonly samples: number;
  readonly effective_samples: number;
  readonly slope: number;
  readonly spikes: number;
  readonly temperature: number | null;
}

export const CORNER_COLUMNS = `corner pad_serial calibration_id calibrated zero_id zero_counts
  force force_u force_dof mass mass_u mass_dof samples effective_samples slope spikes temperature`;

/** Infinite degrees of freedom are null on the disk, in columns as in JSON. */
const dofOnDisk = (dof: number): number | null => (dof === Infinity ? null : dof);

/** The columns of a capture that are its own; who it refers to is added by the repository. */
export const captureColumns = (capture: Capture): SqlNamed => ({
  session_id: capture.sessionId,
  car_name: capture.carName,
  venue_name: capture.venueName,
  taken_at: capture.takenAt,
  phase: capture.phase,
  number: capture.number,
  note: capture.note,
  practice: capture.practice ? 1 : 0,
  gravity: capture.gravity,
  window_seconds: capture.windowSeconds,
  covariance: JSON.stringify(capture.covariance),
  balance: JSON.stringify(capture.balance),
  car_state: JSON.stringify(capture.carState),
  car_state_notes: JSON.stringify(capture.carStateNotes),
});

export const cornerColumns = (capture: Capture, corner: Corner): CornerRow & SqlNamed => {
  const { force, mass, ...of } = capture.corners[corner];
  return {
    corner,
    pad_serial: of.padSerial,
    calibration_id: of.calibrationId,
    calibrated: of.calibrated ? 1 : 0,
    zero_id: of.zeroId,
    zero_counts: of.zeroCounts,
    force: force.value,
    force_u: force.u,
    force_dof: dofOnDisk(force.dof),
    mass: mass.value,
    mass_u: mass.u,
    mass_dof: dofOnDisk(mass.dof),
    samples: of.samples,
    effective_samples: of.effectiveSamples,
    slope: of.slope,
    spikes: of.spikes,
    temperature: of.temperature,
  };
};

const cornerFromRow = (row: CornerRow): unknown => ({
  padSerial: row.pad_serial,
  calibrationId: row.calibration_id,
  calibrated: row.calibrated === 1,
  zeroId: row.zero_id,
  zeroCounts: row.zero_counts,
  force: { value: row.force, u: row.force_u, dof: row.force_dof },
  mass: { value: row.mass, u: row.mass_u, dof: row.mass_dof },
  samples: row.samples,
  effectiveSamples: row.effective_samples,
  slope: row.slope,
  spikes: row.spikes,
  temperature: row.temperature,
});

/** What `captureSchema` is to parse. Throws SyntaxError on a column that is no JSON. */
export const captureFromRows = (
  row: CaptureRow,
  corners: readonly CornerRow[],
  added: { readonly zeroShift: unknown; readonly setAside: boolean },
): unknown => ({
  id: row.id,
  sessionId: row.session_id,
  carId: row.car_id,
  carName: row.car_name,
  venueId: row.venue_id,
  venueName: row.venue_name,
  takenAt: row.taken_at,
  phase: row.phase,
  number: row.number,
  note: row.note,
  practice: row.practice === 1,
  gravity: row.gravity,
  windowSeconds: row.window_seconds,
  corners: Object.fromEntries(corners.map((corner) => [corner.corner, cornerFromRow(corner)])),
  covariance: fromJson(row.covariance),
  balance: fromJson(row.balance),
  carState: fromJson(row.car_state),
  carStateNotes: fromJson(row.car_state_notes),
  ...added,
});
