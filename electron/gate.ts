import { z } from 'zod';
import { isOurPage } from './security.ts';

/**
 * One gate for every message that crosses a process. A message passes when its channel is known,
 * its sender may use that channel, and its payload parses; all else is refused and logged. The
 * meaning of a screen's text is the contract's and is parsed by the bench, not here.
 */

/** The longest text a screen may send, in UTF-16 units. The largest request is a car: some 2 kB. */
export const MAX_SCREEN_TEXT = 65_536;

const isJsonObject = (text: string): boolean => {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === 'object' && value !== null && !Array.isArray(value);
  } catch {
    return false;
  }
};

const screen = z.number().int().nonnegative();

const screenText = z
  .string()
  .max(MAX_SCREEN_TEXT)
  .refine(isJsonObject, { message: 'not a JSON object' });

const portRequest = z.strictObject({ ticket: z.number().int().nonnegative() });

const toBench = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('join'), screen }),
  z.strictObject({ kind: z.literal('text'), screen, text: z.string().max(MAX_SCREEN_TEXT) }),
  z.strictObject({ kind: z.literal('leave'), screen }),
  z.strictObject({ kind: z.literal('stop') }),
]);
/** From the host to the bench process. */
export type ToBench = z.infer<typeof toBench>;

const fromBench = z.discriminatedUnion('kind', [
  /** The bench is up: screens may join. */
  z.strictObject({ kind: z.literal('ready') }),
  z.strictObject({ kind: z.literal('text'), screen, text: z.string() }),
  /** A screen's text that the contract refused. */
  z.strictObject({ kind: z.literal('refused'), screen, why: z.string() }),
]);
/** From the bench process to the host. */
export type FromBench = z.infer<typeof fromBench>;

/** Who speaks on a channel: a frame of the window, a screen already let in, or our own process. */
export type Sender =
  | { readonly is: 'frame'; readonly url: string; readonly top: boolean }
  | { readonly is: 'screen' }
  | { readonly is: 'process' };

const channels = {
  'bench port': { from: 'frame', payload: portRequest },
  'screen text': { from: 'screen', payload: screenText },
  'to bench': { from: 'process', payload: toBench },
  'from bench': { from: 'process', payload: fromBench },
} as const satisfies Record<string, { from: Sender['is']; payload: z.ZodType }>;

export type Channel = keyof typeof channels;
export type Payload<C extends Channel> = z.infer<(typeof channels)[C]['payload']>;

export type Admission<C extends Channel> =
  | { readonly ok: true; readonly payload: Payload<C> }
  | { readonly ok: false; readonly why: string };

export interface Gate {
  /** Lets a message through as its channel's type, or refuses it with the reason, logged. */
  admit<C extends Channel>(channel: C, sender: Sender, payload: unknown): Admission<C>;
}

const senderRefusal = (channel: Channel, sender: Sender): string | null => {
  if (sender.is !== channels[channel].from) return `a ${sender.is} may not use it`;
  if (sender.is !== 'frame') return null;
  if (!isOurPage(sender.url)) return 'the frame is not ours';
  return sender.top ? null : 'the frame is not the top one';
};

/** Makes the gate; refusals go to `log` without the payload, which may be anything. */
export const createGate = (log: (line: string) => void): Gate => ({
  admit: <C extends Channel>(channel: C, sender: Sender, payload: unknown): Admission<C> => {
    const refuse = (why: string): Admission<C> => {
      log(`refused a message on ${JSON.stringify(String(channel).slice(0, 40))}: ${why}`);
      return { ok: false, why };
    };
    if (!Object.hasOwn(channels, channel)) return refuse('no such channel');
    const why = senderRefusal(channel, sender);
    if (why !== null) return refuse(why);
    const parsed = channels[channel].payload.safeParse(payload);
    if (!parsed.success) return refuse(parsed.error.issues[0]?.message ?? 'not its form');
    // The table pairs each channel with its schema; the compiler cannot follow the index.
    return { ok: true, payload: parsed.data as Payload<C> };
  },
});
