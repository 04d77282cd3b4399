import { z } from 'zod';
import { LINK_PHASES, PAD_SOURCES, RADIO_STATES } from '../bench/ports.ts';
import { FAULT_CODES, type FaultCode } from '../faults.ts';
import { carSchema } from '../sheet/car.ts';
import { massSetSchema } from '../sheet/massSet.ts';
import { carStateSchema } from '../sheet/carState.ts';
import { venueSchema } from '../sheet/venue.ts';
import { backupsNowSchema } from './backups.ts';
import { CALIBRATION_KINDS, calibrationRecordSchema } from './calibrationRecord.ts';
import { guestsShownSchema } from './guests.ts';
import { placeSchema } from './kept.ts';
import {
  balanceSchema,
  captureSchema,
  cornerSchema,
  measuredSchema,
  perCornerSchema,
} from './records.ts';
import { ballastShownSchema } from './scrutineering.ts';
import { settingsSchema } from './settings.ts';

/**
 * What the bench tells the screen. `state` changes seldom and is sent whole; a `frame` carries what
 * is new in the live readings, at most sixty a second and one in flight.
 */

const faultSchema = z.strictObject({
  code: z.enum(FAULT_CODES as readonly [FaultCode, ...FaultCode[]]),
  subject: z.string().nullable(),
  at: z.number(),
  detail: z.string().nullable(),
});

const zeroSchema = z.strictObject({
  /** Wall-clock label, ms. */
  takenAt: z.number(),
  counts: z.number(),
  u: z.number(),
  temperature: z.number().nullable(),
});

const calibrationShownSchema = z.strictObject({
  id: z.string(),
  kind: z.enum(CALIBRATION_KINDS),
  /** Wall-clock label, ms. */
  madeAt: z.number(),
  /** Where its span was made. */
  place: placeSchema,
  /** Relative standard uncertainty of a reading near the top; null where the masses are not known. */
  uRelative: z.number().nullable(),
  /** Written reason for its use in spite of what stands against it. */
  inSpiteOf: z.string().nullable(),
});
export type CalibrationShown = z.infer<typeof calibrationShownSchema>;

/** A calibration that was begun: at work, or stopped and to be resumed. */
const draftShownSchema = z.strictObject({
  id: z.string(),
  padSerial: z.string(),
  begunAt: z.number(),
  kind: z.enum(['masses', 'transfer']),
  with: z.string(),
  points: z.number().int(),
});

const padSchema = z.strictObject({
  key: z.string(),
  serial: z.string().nullable(),
  name: z.string(),
  model: z.string().nullable(),
  firmware: z.string().nullable(),
  ratedLoad: z.number().nullable(),
  phase: z.enum(LINK_PHASES),
  phaseSince: z.number(),
  signal: z.number().nullable(),
  battery: z.number().nullable(),
  temperature: z.number().nullable(),
  rate: z.number().nullable(),
  received: z.number(),
  missing: z.number(),
  duplicates: z.number(),
  late: z.number(),
  onFor: z.number().nullable(),
  faults: z.array(faultSchema),
  /** The corner it is assigned to; null is a spare. */
  corner: cornerSchema.nullable(),
  calibrated: z.boolean(),
  /** The calibration it is used with; null is the maker's rating. */
  calibration: calibrationShownSchema.nullable(),
  /** Newest zero, wherever the pad stands. */
  zero: zeroSchema.nullable(),
  /** Newest check with a known mass under that calibration. */
  check: z
    .strictObject({
      at: z.number(),
      relative: z.number(),
      state: z.enum(['same', 'moved', 'cannot tell']),
    })
    .nullable(),
});
export type PadShown = z.infer<typeof padSchema>;

export const benchStateSchema = z.strictObject({
  /** Host monotonic time at which this was made, s. */
  t: z.number(),
  /** Wall clock at that time, ms: only to say how old a record is. */
  wallAt: z.number(),
  source: z.enum(PAD_SOURCES).nullable(),
  radio: z.enum(RADIO_STATES),
  radioFault: faultSchema.nullable(),
  settings: settingsSchema,
  car: carSchema,
  cars: z.array(carSchema),
  venue: venueSchema,
  venues: z.array(venueSchema),
  /** Ids of the cars and venues that are set aside: their records stay. */
  aside: z.array(z.string()),
  /** Gravity used at the venue, m/s². */
  gravity: z.number(),
  outing: z.strictObject({ id: z.string(), name: z.string(), begunAt: z.number() }),
  pads: z.array(padSchema),
  /** Serial number of the pad of each corner; null is none. */
  assigned: perCornerSchema(z.string().nullable()),
  zeros: perCornerSchema(zeroSchema.nullable()),
  askingForPress: cornerSchema.nullable(),
  /** Goes up with every record that is kept: what was read before may have grown. */
  kept: z.number().int(),
  massSets: z.array(massSetSchema),
  /** Calibrations begun and not finished, newest first. */
  unfinished: z.array(draftShownSchema),
  /** The calibration at work, as its points make it so far. */
  calibrating: calibrationRecordSchema.nullable(),
  watched: z.string().nullable(),
  padDescriptions: z.array(z.strictObject({ name: z.string(), text: z.string() })),
  /** Ballast as it is being planned or was planned last; null where none was. */
  ballast: ballastShownSchema.nullable(),
  carState: carStateSchema,
  agreedCarState: carStateSchema,
  /** Phones and tablets that read along. */
  guests: guestsShownSchema,
  /** Copies of the records. */
  copies: backupsNowSchema,
  /** Captures of this outing, newest first. */
  captures: z.array(captureSchema),
  practice: z
    .strictObject({
      car: z.enum(['raised', 'lowering', 'on the pads', 'raising']),
      leaning: z.boolean(),
      turns: perCornerSchema(z.number()),
      /** Masses on the practice pads, kg, by serial number. */
      masses: z.record(z.string(), z.number()),
      stack: z.strictObject({ upper: z.string(), lower: z.string(), force: z.number() }).nullable(),
      /** How often the practice car has been out. */
      runs: z.number().int().nonnegative(),
    })
    .nullable(),
  /** Newest first, the last fifty. */
  faults: z.array(faultSchema),
});
export type BenchState = z.infer<typeof benchStateSchema>;

/** How still a load is. */
export const STILLNESS = ['moving', 'calming', 'settled'] as const;

export const cornerLiveSchema = z.strictObject({
  /** live: heard within 0.5 s. stale: not. absent: no pad, or never heard. */
  status: z.enum(['live', 'stale', 'absent']),
  /** Seconds since the newest sample; null where there is none. */
  age: z.number().nullable(),
  /** Newest smoothed corner weight, kg; null where absent. */
  mass: z.number().nullable(),
  stillness: z.enum(STILLNESS).nullable(),
  /** Mean over the settled window with its standard uncertainty, kg; null while not settled. */
  mean: z.number().nullable(),
  u: z.number().nullable(),
  overload: z.boolean(),
  calibrated: z.boolean(),
  zeroed: z.boolean(),
  /** New points since the last frame: time (host monotonic, s) and kg; a null is a hole. */
  t: z.array(z.number()),
  kg: z.array(z.number().nullable()),
});
export type CornerLive = z.infer<typeof cornerLiveSchema>;

/** Provisional, always: the fit of a car that still moves. */
const earlySchema = z.strictObject({
  /** kg. */
  masses: perCornerSchema(measuredSchema),
  balance: balanceSchema,
});
export type EarlyShown = z.infer<typeof earlySchema>;

const onePadLiveSchema = z.strictObject({
  serial: z.string(),
  isLive: z.boolean(),
  stillness: z.enum(STILLNESS).nullable(),
  /** Newest smoothed load, kg here, and over the settled window the mean with its u; null while not. */
  mass: z.number().nullable(),
  mean: z.number().nullable(),
  u: z.number().nullable(),
  t: z.array(z.number()),
  kg: z.array(z.number().nullable()),
});
export type OnePadLive = z.infer<typeof onePadLiveSchema>;

export const frameSchema = z.strictObject({
  no: z.number().int(),
  t: z.number(),
  corners: perCornerSchema(cornerLiveSchema),
  /** All four together; null while any corner is not live. */
  stillness: z.enum(STILLNESS).nullable(),
  /** How long all four have been settled, s. */
  settledFor: z.number(),
  /**
   * Once settled from the means of the window; before that from the newest values at one common
   * time, with every u = 0: shown as moving, never as a measurement.
   */
  balance: balanceSchema.nullable(),
  /** Where the car is going to settle, while it still moves; null where nothing can be said. */
  early: earlySchema.nullable(),
  /** The pad that is looked at by itself. */
  onePad: onePadLiveSchema.nullable(),
  /** Why Capture would be refused now; null when it would not. */
  notReady: z.string().nullable(),
});
export type Frame = z.infer<typeof frameSchema>;
