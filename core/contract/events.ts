import { z } from 'zod';
import { LINK_PHASES, PAD_SOURCES, RADIO_STATES } from '../bench/ports.ts';
import { FAULT_CODES, type FaultCode } from '../faults.ts';
import { carSchema } from '../sheet/car.ts';
import { carStateSchema } from '../sheet/carState.ts';
import { venueSchema } from '../sheet/venue.ts';
import { balanceSchema, captureSchema, cornerSchema, perCornerSchema } from './records.ts';
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
export type FaultShown = z.infer<typeof faultSchema>;

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
  faults: z.array(faultSchema),
  /** The corner it is assigned to; null is a spare. */
  corner: cornerSchema.nullable(),
  calibrated: z.boolean(),
});
export type PadShown = z.infer<typeof padSchema>;

const zeroSchema = z.strictObject({
  /** Wall-clock label, ms. */
  takenAt: z.number(),
  counts: z.number(),
  u: z.number(),
  temperature: z.number().nullable(),
});

export const benchStateSchema = z.strictObject({
  /** Host monotonic time at which this was made, s. */
  t: z.number(),
  source: z.enum(PAD_SOURCES).nullable(),
  radio: z.enum(RADIO_STATES),
  radioFault: faultSchema.nullable(),
  settings: settingsSchema,
  car: carSchema,
  cars: z.array(carSchema),
  venue: venueSchema,
  venues: z.array(venueSchema),
  /** Gravity used at the venue, m/s². */
  gravity: z.number(),
  outing: z.strictObject({ id: z.string(), name: z.string(), begunAt: z.number() }),
  pads: z.array(padSchema),
  /** Serial number of the pad of each corner; null is none. */
  assigned: perCornerSchema(z.string().nullable()),
  zeros: perCornerSchema(zeroSchema.nullable()),
  askingForPress: cornerSchema.nullable(),
  carState: carStateSchema,
  agreedCarState: carStateSchema,
  /** Captures of this outing, newest first. */
  captures: z.array(captureSchema),
  practice: z
    .strictObject({
      car: z.enum(['raised', 'lowering', 'on the pads', 'raising']),
      leaning: z.boolean(),
      turns: perCornerSchema(z.number()),
    })
    .nullable(),
  /** Newest first, the last fifty. */
  faults: z.array(faultSchema),
});
export type BenchState = z.infer<typeof benchStateSchema>;

/** How still a load is. */
export const STILLNESS = ['moving', 'calming', 'settled'] as const;

const cornerLiveSchema = z.strictObject({
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
  /** Why Capture would be refused now; null when it would not. */
  notReady: z.string().nullable(),
});
export type Frame = z.infer<typeof frameSchema>;
