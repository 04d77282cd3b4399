import type { Packet } from './protocol/model.ts';

/**
 * How two packets of one pad stand to each other, by number, clock and arrival. Numbers wrap at
 * 65536 and clocks at 2³² ms; both begin again when the pad restarts.
 */

/** How far a converter's real rate may be from its nominal one; common practice for RC clocks, no source. */
const RATE_SLACK = 1.25;
/** Samples of slack for the rounding of the clock and a rate that changed between packets. */
const COUNT_SLACK = 8;
/**
 * How far delivery can be behind, ms: a link that holds packets back longer is given up (supervision
 * timeout 2 s). So nothing comes later than this, a pad's clock gets no further ahead of the host's,
 * and one that began again has run no longer than the silence and this.
 */
const HELD_BACK_MS = 2000;

/** Where a packet stands: by its number, its clock and its arrival. */
export interface PacketPlace {
  readonly sequence: number;
  readonly clockMs: number;
  readonly rate: number | null;
  readonly samples: number;
  readonly at: number;
}

/** The place of a packet; null where its model has no number or no clock. */
export const placeOf = (packet: Packet, at: number): PacketPlace | null =>
  packet.sequence === null || packet.clockMs === null
    ? null
    : {
        sequence: packet.sequence,
        clockMs: packet.clockMs,
        rate: packet.rate,
        samples: packet.counts.length,
        at,
      };

/** Difference of two clocks modulo 2³², signed, ms. */
export const clockStep = (from: PacketPlace, to: PacketPlace): number =>
  (to.clockMs - from.clockMs) | 0;

/** Difference of two sequence numbers modulo 65536, signed. */
const sequenceStep = (from: PacketPlace, to: PacketPlace): number =>
  ((to.sequence - from.sequence) << 16) >> 16;

/**
 * How many samples `to` starts after `from`, by number and clock together; null where they
 * contradict each other or the arrivals. The clock resolves how often the number has wrapped. Over
 * a broken link the host may have slept, its clock with it: then the pad's may be far ahead.
 */
export const advance = (
  from: PacketPlace,
  to: PacketPlace,
  isLinkBroken: boolean,
): number | null => {
  const ahead = clockStep(from, to) - (to.at - from.at) * 1000;
  if (clockStep(from, to) < -HELD_BACK_MS || (!isLinkBroken && ahead > HELD_BACK_MS)) return null;
  const step = sequenceStep(from, to);
  const slowest = Math.min(from.rate ?? to.rate ?? 0, to.rate ?? from.rate ?? 0);
  const fastest = Math.max(from.rate ?? 0, to.rate ?? 0);
  if (slowest === 0) return step;
  const seconds = clockStep(from, to) / 1000;
  const low = Math.min(seconds * slowest, seconds * fastest);
  const high = Math.max(seconds * slowest, seconds * fastest);
  const middle = (low + high) / 2;
  const samples = step + 65536 * Math.round((middle - step) / 65536);
  const least = (low < 0 ? low * RATE_SLACK : low / RATE_SLACK) - COUNT_SLACK;
  const most = (high < 0 ? high / RATE_SLACK : high * RATE_SLACK) + COUNT_SLACK;
  return samples >= least && samples <= most ? samples : null;
};

/** Whether the clock of `to` can have begun at 0 after `from` was heard. */
export const beganAgain = (from: PacketPlace, to: PacketPlace): boolean =>
  to.clockMs <= (to.at - from.at) * 1000 + HELD_BACK_MS;

/**
 * How many samples `to` starts after `from` where only the clock began again, as it can be told to:
 * numbers go on, within what the silence allows. Null where they do not.
 */
export const resetStep = (from: PacketPlace, to: PacketPlace): number | null => {
  const step = sequenceStep(from, to);
  const most = (to.at - from.at + HELD_BACK_MS / 1000) * (to.rate ?? 0) * RATE_SLACK;
  return step >= from.samples && step <= most ? step : null;
};
