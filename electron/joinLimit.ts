import type { Second } from '../core/units.ts';

/** Tries to join that one address has in a minute: codes cannot be guessed, this is against the load. */
const TRIES = 10;
const PERIOD = 60;
/** Addresses remembered: a network has no more of them that would try. */
const MAX_ADDRESSES = 256;

/** Whether an address may try once more; the try is counted. */
export type JoinLimit = (from: string) => boolean;

export const createJoinLimit = (now: () => Second): JoinLimit => {
  const tries = new Map<string, number[]>();
  return (from) => {
    const t = now();
    for (const [address, times] of tries)
      if (times.every((at) => t - at >= PERIOD)) tries.delete(address);
    const mine = (tries.get(from) ?? []).filter((at) => t - at < PERIOD);
    if (mine.length >= TRIES || (mine.length === 0 && tries.size >= MAX_ADDRESSES)) return false;
    tries.set(from, [...mine, t]);
    return true;
  };
};
