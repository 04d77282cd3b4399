import { z } from 'zod';
import { PAD_SOURCES } from '../bench/ports.ts';
import { carSchema } from '../sheet/car.ts';
import { carStateSchema } from '../sheet/carState.ts';
import { venueSchema } from '../sheet/venue.ts';
import { BACKUP_COMMANDS, BACKUP_RESULTS } from './backups.ts';
import { calibrationRecordSchema } from './calibrationRecord.ts';
import { budgetShownSchema } from './explained.ts';
import { GUEST_COMMANDS, guestInvitedSchema } from './guests.ts';
import { keptSchema } from './kept.ts';
import { KEPT_COMMANDS } from './keptCommands.ts';
import { PAD_COMMANDS } from './padCommands.ts';
import { padHistorySchema } from './padHistory.ts';
import { practiceStaffSchema } from './patchSurvey.ts';
import { PRACTICE_COMMANDS, PRACTICE_RESULTS } from './practiceRun.ts';
import { printedSchema, printFormSchema, printWhatSchema } from './print.ts';
import {
  balanceSchema,
  captureSchema,
  cornerSchema,
  measuredSchema,
  perCornerSchema,
  PHASES,
  rawWindowSchema,
} from './records.ts';
import { BALLAST_COMMANDS } from './scrutineering.ts';
import { SEASON_COMMANDS, SEASON_RESULTS } from './season.ts';
import { settingsSchema } from './settings.ts';
import { STANDINGS_COMMANDS, STANDINGS_RESULTS } from './standings.ts';
import { studyShownSchema } from './studyShown.ts';
import { trialShownSchema } from './trialShown.ts';

/** What the screen may ask of the bench. Each is answered once: done, or refused with the reason. */

const serial = z.string().min(1).max(64);
const id = z.string().min(1).max(64);

/** Samples a second that a pad can be asked for. */
export const PAD_RATES = [10, 20, 40, 80] as const;
export type PadRate = (typeof PAD_RATES)[number];

export const commandSchema = z.discriminatedUnion('do', [
  z.strictObject({ do: z.literal('choose pads'), source: z.enum(PAD_SOURCES) }),
  z.strictObject({ do: z.literal('assign pad'), serial, corner: cornerSchema.nullable() }),
  /** Press a pad: the next pad whose load jumps becomes this corner. Null stops asking. */
  z.strictObject({ do: z.literal('ask for press'), corner: cornerSchema.nullable() }),
  z.strictObject({ do: z.literal('identify pad'), serial }),
  z.strictObject({
    do: z.literal('set rate'),
    serial,
    rate: z.literal(PAD_RATES),
  }),
  z.strictObject({ do: z.literal('zero') }),
  z.strictObject({
    do: z.literal('capture'),
    phase: z.enum(PHASES),
    note: z.string().max(400),
    /** While the car still moves: where it is going to settle. It stays marked as provisional. */
    isEarly: z.boolean().optional(),
  }),
  /** Reads the zeros with the car raised again and notes the shift on the last capture. */
  z.strictObject({ do: z.literal('check zero') }),
  z.strictObject({ do: z.literal('open capture'), id }),
  z.strictObject({ do: z.literal('set aside'), id, aside: z.boolean() }),
  z.strictObject({ do: z.literal('change settings'), settings: settingsSchema }),
  z.strictObject({ do: z.literal('set car state'), state: carStateSchema }),
  /** What the crew agrees the state should be at every set-down. */
  z.strictObject({ do: z.literal('agree car state'), state: carStateSchema }),
  /** A car or venue with a new id is added; a known id makes the new record replace the old one. */
  z.strictObject({ do: z.literal('use car'), car: carSchema }),
  z.strictObject({ do: z.literal('use venue'), venue: venueSchema }),
  z.strictObject({ do: z.literal('begin outing'), name: z.string().trim().min(1).max(80) }),
  z.strictObject({ do: z.literal('lower practice car') }),
  z.strictObject({ do: z.literal('raise practice car') }),
  z.strictObject({
    do: z.literal('turn practice perch'),
    corner: cornerSchema,
    turns: z.number().min(-20).max(20),
  }),
  z.strictObject({ do: z.literal('lean on practice car'), on: z.boolean() }),
  ...PRACTICE_COMMANDS,
  ...PAD_COMMANDS,
  ...KEPT_COMMANDS,
  ...BALLAST_COMMANDS,
  ...GUEST_COMMANDS,
  ...BACKUP_COMMANDS,
  ...SEASON_COMMANDS,
  ...STANDINGS_COMMANDS,
  z.strictObject({ do: z.literal('print'), what: printWhatSchema, form: printFormSchema }),
]);
export type Command = z.infer<typeof commandSchema>;

/** Why a command was not carried out, in words for the person who gave it. */
export const refusalSchema = z.strictObject({
  /** One line: what is in the way. */
  why: z.string().min(1),
  /** One line: what to do next. */
  next: z.string(),
  corner: cornerSchema.nullable(),
});
export type Refusal = z.infer<typeof refusalSchema>;

/** What a command gives back when done. */
export const resultSchema = z.discriminatedUnion('is', [
  z.strictObject({ is: z.literal('done') }),
  z.strictObject({ is: z.literal('captured'), capture: captureSchema }),
  z.strictObject({
    is: z.literal('capture opened'),
    capture: captureSchema,
    window: rawWindowSchema,
  }),
  /** The record that was kept, and whether the pad is used with it. */
  z.strictObject({
    is: z.literal('calibrated'),
    record: calibrationRecordSchema,
    isUsed: z.boolean(),
  }),
  z.strictObject({ is: z.literal('pad opened'), history: padHistorySchema }),
  z.strictObject({
    is: z.literal('recomputed'),
    masses: perCornerSchema(measuredSchema),
    balance: balanceSchema,
  }),
  z.strictObject({ is: z.literal('explained'), budgets: z.array(budgetShownSchema) }),
  printedSchema,
  guestInvitedSchema,
  ...BACKUP_RESULTS,
  /** Readings of a staff, metre, point by point and sight by sight. */
  z.strictObject({ is: z.literal('staff read'), readings: practiceStaffSchema }),
  ...PRACTICE_RESULTS,
  ...SEASON_RESULTS,
  ...STANDINGS_RESULTS,
  z.strictObject({ is: z.literal('kept'), records: z.array(keptSchema) }),
  z.strictObject({ is: z.literal('captures'), captures: z.array(captureSchema) }),
  z.strictObject({ is: z.literal('study opened'), study: studyShownSchema }),
  z.strictObject({ is: z.literal('description tried'), trial: trialShownSchema }),
]);
export type Result = z.infer<typeof resultSchema>;
