import { z } from 'zod';

/** Phones and tablets that read along: letting them in, and who they are. What they are sent is `guestView`. */

const id = z.string().min(1).max(64);

export const GUEST_COMMANDS = [
  /** Opens the port on the team's network, or shuts it. A start of the program finds it shut. */
  z.strictObject({ do: z.literal('open guest view'), isOn: z.boolean() }),
  /** Makes the code of one device; one of the same name that nobody used is taken back. */
  z.strictObject({ do: z.literal('invite guest'), name: z.string().trim().min(1).max(40) }),
  /** Its code, its token and its connection end at once. */
  z.strictObject({ do: z.literal('revoke guest'), id }),
] as const;

/** The code of one device at one address of this computer: told once, to whoever asked for it. */
const guestCodeSchema = z.strictObject({
  /** The network's name on this computer, and its address there. */
  network: z.string(),
  address: z.string(),
  /** With the token behind the `#`, which browsers keep to themselves. */
  url: z.string(),
  /** The same as a QR code: modules on a side, and the path of the dark ones, one unit each. */
  qr: z.strictObject({ size: z.number().int().positive(), path: z.string() }),
});
export type GuestCode = z.infer<typeof guestCodeSchema>;

export const guestInvitedSchema = z.strictObject({
  is: z.literal('guest invited'),
  id,
  codes: z.array(guestCodeSchema).min(1),
});

export const guestsShownSchema = z.strictObject({
  isOn: z.boolean(),
  /** In the order of their invitation. */
  guests: z.array(
    z.strictObject({
      id,
      name: z.string(),
      /** Wall-clock labels, ms; null for never. */
      joinedAt: z.number().nullable(),
      seenAt: z.number().nullable(),
      /** Connected now. */
      isHere: z.boolean(),
    }),
  ),
});
export type GuestsShown = z.infer<typeof guestsShownSchema>;
