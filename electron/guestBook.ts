import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import type { GuestsShown } from '../core/contract/guests.ts';

/**
 * The guests that are let in. A code is good for one device, once: it is exchanged for a token that only
 * that device has. Of both only hashes are held, and those in memory: a start of the program forgets all.
 */
export interface GuestBook {
  /** A new guest and its code; null when there are as many as can be. */
  invite(name: string): { readonly id: string; readonly code: string } | null;
  /** Takes a code for a token; null for a code that is none, was used or taken back. */
  join(code: string): { readonly id: string; readonly token: string } | null;
  /** Whose token is among these; null for nobody's. */
  who(tokens: readonly string[]): string | null;
  /** It is connected, and was heard just now. */
  seen(id: string): void;
  /** False where there is no such guest. */
  revoke(id: string): boolean;
  list(): readonly Omit<GuestsShown['guests'][number], 'isHere'>[];
}

const MAX_GUESTS = 12;

interface Guest {
  readonly id: string;
  readonly name: string;
  code: Uint8Array | null;
  token: Uint8Array | null;
  joinedAt: number | null;
  seenAt: number | null;
}

/** 128 random bits: 22 letters, so that the QR code stays coarse enough for a poor camera. */
const newToken = (): string => randomBytes(16).toString('base64url');

const hash = (text: string): Uint8Array => createHash('sha256').update(text).digest();

export const createGuestBook = (ports: {
  readonly newId: () => string;
  readonly wallClock: () => number;
}): GuestBook => {
  const guests = new Map<string, Guest>();

  /** The guest whose hash that is; looks at all, however early one is found. */
  const whose = (key: 'code' | 'token', text: string): Guest | null => {
    const given = hash(text);
    let found: Guest | null = null;
    for (const guest of guests.values()) {
      const held = guest[key];
      if (held && timingSafeEqual(held, given)) found = guest;
    }
    return found;
  };

  return {
    invite: (name) => {
      for (const { id, name: its, joinedAt } of guests.values())
        if (its === name && joinedAt === null) guests.delete(id);
      if (guests.size >= MAX_GUESTS) return null;
      const id = ports.newId();
      const code = newToken();
      guests.set(id, { id, name, code: hash(code), token: null, joinedAt: null, seenAt: null });
      return { id, code };
    },
    join: (code) => {
      const guest = whose('code', code);
      if (!guest) return null;
      const token = newToken();
      guest.code = null;
      guest.token = hash(token);
      guest.joinedAt = ports.wallClock();
      return { id: guest.id, token };
    },
    who: (tokens) => {
      for (const token of tokens) {
        const guest = whose('token', token);
        if (guest) return guest.id;
      }
      return null;
    },
    seen: (id) => {
      const guest = guests.get(id);
      if (guest) guest.seenAt = ports.wallClock();
    },
    revoke: (id) => guests.delete(id),
    list: () =>
      Array.from(guests.values(), ({ id, name, joinedAt, seenAt }) => ({
        id,
        name,
        joinedAt,
        seenAt,
      })),
  };
};
