import { z } from 'zod';
import { OFF_CENTRE_PLACES } from '../calibration/offCentre.ts';
import { massSetSchema } from '../sheet/massSet.ts';
import { limitsSchema } from './calibrationRecord.ts';
import { perCornerSchema } from './records.ts';

/** Commands about one pad and about what it is calibrated and checked with. */

const serial = z.string().min(1).max(64);
const id = z.string().min(1).max(64);
const reason = z.string().trim().min(1).max(400).nullable();
const massIds = z.array(id).max(200);
const person = z.string().trim().min(1).max(80);

export const PAD_COMMANDS = [
  z.strictObject({ do: z.literal('keep mass set'), set: massSetSchema, isAside: z.boolean() }),
  /** Shows one pad live by itself; null stops. */
  z.strictObject({ do: z.literal('watch pad'), padSerial: serial.nullable() }),
  z.strictObject({ do: z.literal('zero pad'), padSerial: serial }),
  /** With masses, or against a pad in series: one of the two. */
  z.strictObject({
    do: z.literal('begin calibration'),
    padSerial: serial,
    massSetId: id.nullable(),
    referenceSerial: serial.nullable(),
    against: limitsSchema.nullable(),
  }),
  /** Resumes one that was stopped; null stops, and nothing is lost. */
  z.strictObject({ do: z.literal('work at calibration'), id: id.nullable() }),
  z.strictObject({
    do: z.literal('take point'),
    /** What stands on the pad; none is nothing. */
    massIds,
    /** Nothing carries load: a zero. */
    isEmpty: z.boolean(),
    /** What stands there was not placed anew, only read again. */
    isReadAgain: z.boolean(),
  }),
  z.strictObject({ do: z.literal('undo point') }),
  z.strictObject({ do: z.literal('give up calibration') }),
  /** Keeps the record, and uses it where nothing stands against it or a reason is written. */
  z.strictObject({ do: z.literal('finish calibration'), reason }),
  /** Null: the maker's rating. */
  z.strictObject({
    do: z.literal('use calibration'),
    padSerial: serial,
    calibrationId: id.nullable(),
    reason,
  }),
  z.strictObject({ do: z.literal('check pad'), padSerial: serial, massSetId: id, massIds }),
  z.strictObject({
    do: z.literal('read off centre'),
    padSerial: serial,
    testId: id,
    place: z.enum(OFF_CENTRE_PLACES),
    distance: z.number().positive().max(1),
    massSetId: id,
    massIds,
  }),
  z.strictObject({ do: z.literal('open pad'), padSerial: serial }),
  /** What a capture would be with these calibrations; null is the maker's rating. */
  z.strictObject({
    do: z.literal('recompute'),
    captureId: id,
    calibrations: perCornerSchema(id.nullable()),
  }),
  /** The uncertainty budget of a capture, or of what stands there now (null). */
  z.strictObject({ do: z.literal('explain'), captureId: id.nullable() }),
  z.strictObject({
    do: z.literal('add lowering'),
    studyId: id,
    captureId: id,
    person,
    laying: z.number().int().positive(),
  }),
  z.strictObject({ do: z.literal('open study'), studyId: id }),
  z.strictObject({
    do: z.literal('keep pad description'),
    text: z.string().min(2).max(200_000),
    isAside: z.boolean(),
  }),
  z.strictObject({
    do: z.literal('try pad description'),
    text: z.string().max(200_000),
    /** Bytes of one payload; or the newest of a pad that is live. */
    hex: z.string().max(4096),
    padSerial: serial.nullable(),
  }),
  /** Masses, kg, on a pad of the practice rig; 0 takes them off. */
  z.strictObject({
    do: z.literal('put practice masses'),
    padSerial: serial,
    mass: z.number().min(0).max(1000),
    place: z.enum(OFF_CENTRE_PLACES),
    distance: z.number().min(0).max(1),
  }),
  /** Reads a staff at points of the practice pads, from each pad's centre, metre. */
  z.strictObject({
    do: z.literal('read practice staff'),
    points: z.array(z.strictObject({ x: z.number().finite(), y: z.number().finite() })).max(10),
    sights: z.number().int().min(1).max(10),
  }),
  /** Stacks a practice pad on another and presses both, newton; null takes them apart. */
  z.strictObject({
    do: z.literal('press practice stack'),
    stack: z
      .strictObject({ upper: serial, lower: serial, force: z.number().min(0).max(20_000) })
      .nullable(),
  }),
] as const;
