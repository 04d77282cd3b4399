import { z } from 'zod';
import { KEPT_KINDS, keptSchema } from './kept.ts';

/**
 * Records of the screens' own making: what a screen keeps it reads again, and computes with it by the
 * functions of core. The bench gives id, time and world, and refuses what may not be written so.
 */

const id = z.string().min(1).max(64);

/** Kinds that screens write themselves; all others come of commands of their own. */
export const SCREEN_KINDS = [
  'sheet',
  'car record',
  'record entry',
  'set aside',
  'gauge',
  'capture read in',
  'axle lift',
  'patch survey',
  'adjustment',
  'practice walk',
  'authority',
  'pair',
  'plates',
  'ballast plan',
] as const satisfies readonly (typeof KEPT_KINDS)[number][];

export const KEPT_COMMANDS = [
  z.strictObject({
    do: z.literal('keep'),
    /** A record of one of `SCREEN_KINDS`; its id, time and world are replaced by the bench's own. */
    record: keptSchema,
  }),
  z.strictObject({
    do: z.literal('open kept'),
    kind: z.enum(KEPT_KINDS),
    /** Null for all of the kind. */
    subject: id.nullable(),
  }),
  z.strictObject({ do: z.literal('open captures'), ids: z.array(id).max(2000) }),
] as const;
