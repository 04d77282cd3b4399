import { SAMPLE_FLAGS, type GapReason } from '../../core/reading.ts';
import type { Packet } from './protocol/model.ts';

/**
 * Watches the numbers and clocks of one pad's packets: which samples are new, where the holes are,
 * what came twice, too late or cannot be. It invents nothing: what is missing is said, not filled.
 *
 * A packet whose number and clock do not belong to the stream is set aside until the next one shows
 * which was right: one stray packet is left out, a stream that really began again is followed.
 */

export type Watched =
  /** Samples `from` and after of the packet are new; the first of them has this running number. */
  | {
      readonly kind: 'samples';
      readonly packet: Packet;
      readonly from: number;
      readonly index: number;
      /** Pad clock at the packet's first sample, ms, unwrapped; null where the model has none. */
      readonly clockMs: number | null;
      /** Changes whenever the pad's clock began again. */
      readonly epoch: number;
      /** Arrival on the host's clock, s. */
      readonly at: number;
    }
  /** A hole before the samples that follow. */
  | { readonly kind: 'gap'; readonly missing: number | null; readonly reason: GapReason }
  | { readonly kind: 'duplicate'; readonly samples: number }
  | { readonly kind: 'late'; readonly samples: number }
  | { readonly kind: 'impossible'; readonly samples: number; readonly why: string };

export interface StreamWatch {
  /** Takes one packet as it arrived, at host time `at`, s. */
  take(packet: Packet, at: number): readonly Watched[];
  /** The link broke: the hole before the next sample is the link's. */
  linkLost(): void;
}

/** Samples of memory for telling "twice" from "late": 6 s at the fastest rate. */
const REMEMBERED = 512;
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

interface Place {
  readonly sequence: number;
  readonly clockMs: number;
  readonly rate: number | null;
  readonly samples: number;
  readonly at: number;
}

const placeOf = (packet: Packet, at: number): Place | null =>
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
const clockStep = (from: Place, to: Place): number => (to.clockMs - from.clockMs) | 0;

/** Difference of two sequence numbers modulo 65536, signed. */
const sequenceStep = (from: Place, to: Place): number =>
  ((to.sequence - from.sequence) << 16) >> 16;

/**
 * How many samples `to` starts after `from`, by number and clock together; null where they
 * contradict each other or the arrivals. The clock resolves how often the number has wrapped. Over
 * a broken link the host may have slept, its clock with it: then the pad's may be far ahead.
 */
const advance = (from: Place, to: Place, isLinkBroken: boolean): number | null => {
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
const beganAgain = (from: Place, to: Place): boolean =>
  to.clockMs <= (to.at - from.at) * 1000 + HELD_BACK_MS;

/** Makes the watch of one pad. */
export const createStreamWatch = (): StreamWatch => {
  /** Newest packet that was accepted, and what it was given. */
  let newest: Place | null = null;
  let newestIndex = 0;
  let newestClockMs = 0;
  let firstOfEpoch: Place | null = null;
  let aside: { readonly packet: Packet; readonly place: Place } | null = null;
  /** Running number of the next sample. */
  let next = 0;
  let epoch = 0;
  let linkBroke = false;
  let begun = false;
  /** For each recent running number, modulo REMEMBERED, the number that was accepted or seen late. */
  const seen = new Float64Array(REMEMBERED).fill(-1);

  const remember = (first: number, count: number): void => {
    for (let index = first; index < first + count; index++) seen[index % REMEMBERED] = index;
  };

  /** Accepts samples `from` and after; the packet's first sample has the running number `index`. */
  const accept = (
    packet: Packet,
    place: Place | null,
    from: number,
    index: number,
    at: number,
  ): Watched => {
    if (place) {
      newestClockMs = newest ? newestClockMs + clockStep(newest, place) : place.clockMs;
      newest = place;
      newestIndex = index;
    }
    begun = true;
    linkBroke = false;
    next = index + packet.counts.length;
    remember(index + from, packet.counts.length - from);
    const clockMs = place ? newestClockMs : null;
    return { kind: 'samples', packet, from, index: index + from, clockMs, epoch, at };
  };

  /** The stream goes on from `place` as a new one: nothing ties its numbers to the old. */
  const beginAgain = (packet: Packet, place: Place, reason: GapReason, out: Watched[]): void => {
    if (begun) {
      out.push({ kind: 'gap', missing: null, reason });
      epoch++;
      // At least one sample is missing, and no number says how many.
      next++;
    }
    newest = null;
    firstOfEpoch = place;
    out.push(accept(packet, place, 0, next, place.at));
  };

  /** Samples before `next`: each was either accepted already or comes too late. */
  const old = (first: number, count: number, out: Watched[]): void => {
    let twice = 0;
    for (let index = first; index < first + count; index++) {
      if (index >= 0 && seen[index % REMEMBERED] === index) twice++;
      else if (index >= 0) seen[index % REMEMBERED] = index;
    }
    if (twice > 0) out.push({ kind: 'duplicate', samples: twice });
    if (count > twice) out.push({ kind: 'late', samples: count - twice });
  };

  const leaveOut = (out: Watched[]): void => {
    if (!aside) return;
    const { sequence, clockMs, samples } = aside.place;
    out.push({ kind: 'impossible', samples, why: `number ${sequence}, clock ${clockMs} ms` });
    aside = null;
  };

  /** A packet that belongs to the stream, its first sample with running number `index`. */
  const follow = (packet: Packet, place: Place, index: number, out: Watched[]): void => {
    const count = place.samples;
    const missing = index - next;
    if (missing > 0) out.push({ kind: 'gap', missing, reason: linkBroke ? 'link' : 'lost' });
    const from = Math.max(0, -missing);
    if (from > 0) old(index, Math.min(from, count), out);
    if (from < count) out.push(accept(packet, place, from, index, place.at));
  };

  /** Only the clock began again (it can be told to): numbers go on, within what the silence allows. */
  const clockReset = (from: Place, to: Place): number | null => {
    const step = sequenceStep(from, to);
    const most = (to.at - from.at + HELD_BACK_MS / 1000) * (to.rate ?? 0) * RATE_SLACK;
    return step >= from.samples && step <= most ? step : null;
  };

  /** What was set aside was right after all: the stream goes on from there. */
  const adopt = (out: Watched[]): void => {
    if (!aside || !newest) return;
    const { packet, place } = aside;
    aside = null;
    if (!beganAgain(newest, place)) {
      const why = `number ${newest.sequence} to ${place.sequence}, clock ${newest.clockMs} to ${place.clockMs} ms`;
      out.push({ kind: 'impossible', samples: 0, why });
      beginAgain(packet, place, 'impossible', out);
      return;
    }
    const step = clockReset(newest, place);
    if (step === null) {
      beginAgain(packet, place, 'restarted', out);
      return;
    }
    const index = newestIndex + step;
    newest = null;
    firstOfEpoch = place;
    epoch++;
    follow(packet, place, index, out);
  };

  const take = (packet: Packet, at: number): readonly Watched[] => {
    const place = placeOf(packet, at);
    if (!place) {
      const out: Watched[] =
        linkBroke && begun ? [{ kind: 'gap', missing: null, reason: 'link' }] : [];
      if (out.length > 0) next++;
      out.push(accept(packet, null, 0, next, at));
      return out;
    }
    const out: Watched[] = [];
    const isFirstAgain =
      firstOfEpoch !== null &&
      firstOfEpoch.sequence === place.sequence &&
      firstOfEpoch.clockMs === place.clockMs;
    if (!newest || (packet.flags & SAMPLE_FLAGS.restarted && !isFirstAgain)) {
      leaveOut(out);
      beginAgain(packet, place, 'restarted', out);
      return out;
    }
    const samples = advance(newest, place, linkBroke);
    if (samples !== null) {
      leaveOut(out);
      follow(packet, place, newestIndex + samples, out);
      return out;
    }
    const sinceAside = aside ? advance(aside.place, place, false) : null;
    if (aside && sinceAside !== null && sinceAside > 0) {
      adopt(out);
      const again = newest ? advance(newest, place, false) : null;
      if (again !== null) follow(packet, place, newestIndex + again, out);
      return out;
    }
    leaveOut(out);
    aside = { packet, place };
    return out;
  };

  return {
    take,
    linkLost: () => {
      linkBroke = true;
      aside = null;
    },
  };
};
