import { z } from 'zod';
import { dofSchema } from '../sheet/dof.ts';
import { CORNERS } from '../corners.ts';
import { carStateSchema } from '../sheet/carState.ts';

/** Shapes that are stored and sent alike: one definition, so they cannot drift apart. SI throughout. */

export const cornerSchema = z.enum(CORNERS);
export const perCornerSchema = <T extends z.ZodType>(each: T) =>
  z.strictObject({ LF: each, RF: each, LR: each, RR: each });

export const measuredSchema = z.strictObject({
  value: z.number(),
  u: z.number().nonnegative(),
  dof: dofSchema,
});

/** Which diagonal is called cross weight; always shown with it. */
export const CROSS_DIAGONALS = ['RF+LR', 'LF+RR'] as const;
export type CrossDiagonal = (typeof CROSS_DIAGONALS)[number];

export const PHASES = ['set-up', 'set-down', 'check'] as const;
export type Phase = (typeof PHASES)[number];

/** Balance of a car from four corner weights: masses in kg, shares as fractions, lengths in m. */
export const balanceSchema = z.strictObject({
  total: measuredSchema,
  front: measuredSchema,
  rear: measuredSchema,
  left: measuredSchema,
  right: measuredSchema,
  frontShare: measuredSchema,
  leftShare: measuredSchema,
  /** Share of the diagonal named by `cross`. */
  crossShare: measuredSchema,
  cross: z.enum(CROSS_DIAGONALS),
  /** LF − RF and LR − RR, kg. */
  frontDifference: measuredSchema,
  rearDifference: measuredSchema,
  /** The named diagonal less the other, kg. */
  diagonalDifference: measuredSchema,
  cgBehindFrontAxle: measuredSchema,
  /** Left of the centre line positive. */
  cgLeftOfCentre: measuredSchema,
});
export type Balance = z.infer<typeof balanceSchema>;

const cornerCaptureSchema = z.strictObject({
  padSerial: z.string().min(1),
  /** Null while the pad has only its rating. */
  calibrationId: z.string().nullable(),
  calibrated: z.boolean(),
  zeroId: z.string().nullable(),
  zeroCounts: z.number().nullable(),
  /** Newton, gravity still in it. */
  force: measuredSchema,
  /** Kilogram: force over the gravity of the venue. */
  mass: measuredSchema,
  samples: z.number().int().positive(),
  /** Number of independent samples that carry as much. */
  effectiveSamples: z.number().positive(),
  /** Drift left in the window, kg/s. */
  slope: z.number(),
  spikes: z.number().int().nonnegative(),
  temperature: z.number().nullable(),
});

export const captureSchema = z.strictObject({
  id: z.string().min(1),
  sessionId: z.string().min(1),
  carId: z.string().min(1),
  carName: z.string().min(1),
  venueId: z.string().min(1),
  venueName: z.string().min(1),
  /** Wall-clock label, milliseconds since 1970 UTC. */
  takenAt: z.number().int(),
  phase: z.enum(PHASES),
  /** Number within the session, from 1. */
  number: z.number().int().positive(),
  note: z.string().max(400),
  /** True when the pads were the practice rig: never mixed with real records. */
  practice: z.boolean(),
  gravity: z.number().positive(),
  windowSeconds: z.number().positive(),
  corners: perCornerSchema(cornerCaptureSchema),
  /** Covariance of the four mean forces, N², row by row in the order LF, RF, LR, RR. */
  covariance: z.array(z.number()).length(16),
  balance: balanceSchema,
  carState: carStateSchema,
  carStateNotes: z.array(z.string()),
  /** Zero read after the car was raised again: shift per corner in kg; null until then. */
  zeroShift: perCornerSchema(z.number().nullable()).nullable(),
  setAside: z.boolean(),
});
export type Capture = z.infer<typeof captureSchema>;

/** The raw window of a capture: times in seconds from the start of the window, the same for all four, counts as sent. */
export const rawWindowSchema = perCornerSchema(
  z.strictObject({ t: z.array(z.number()), raw: z.array(z.number()) }),
);
export type RawWindow = z.infer<typeof rawWindowSchema>;
