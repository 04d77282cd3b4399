import { z } from 'zod';
import { commandSchema, refusalSchema, resultSchema } from './commands.ts';
import { benchStateSchema, frameSchema } from './events.ts';

/**
 * The envelope, the same over a MessagePort and a WebSocket: JSON text both ways. The host parses
 * requests, the screen parses pushes; what does not parse is refused and logged, never guessed at.
 */

export const CONTRACT_VERSION = 1;

/** From the screen to the bench. */
export const requestSchema = z.discriminatedUnion('kind', [
  /** First message: the bench answers with its state and begins to send frames. */
  z.strictObject({ kind: z.literal('hello'), version: z.literal(CONTRACT_VERSION) }),
  z.strictObject({ kind: z.literal('command'), n: z.number().int(), command: commandSchema }),
  /** The frame was taken: the next may be sent. */
  z.strictObject({ kind: z.literal('frame taken'), no: z.number().int() }),
  /** Hidden: no frames, everything else goes on. */
  z.strictObject({ kind: z.literal('visible'), visible: z.boolean() }),
]);
export type Request = z.infer<typeof requestSchema>;

/** From the bench to the screen. */
export const pushSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('state'), state: benchStateSchema }),
  z.strictObject({ kind: z.literal('frame'), frame: frameSchema }),
  z.strictObject({ kind: z.literal('done'), n: z.number().int(), result: resultSchema }),
  z.strictObject({ kind: z.literal('refused'), n: z.number().int(), refusal: refusalSchema }),
]);
export type Push = z.infer<typeof pushSchema>;

/** A push as JSON text. Infinite degrees of freedom become null, as the schemas expect. */
export const encodePush = (push: Push): string => JSON.stringify(push);
