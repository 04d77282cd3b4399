import { SAMPLE_FLAGS, type GapReason } from '../../core/reading.ts';
import {
  advance,
  beganAgain,
  clockStep,
  placeOf,
  resetStep,
  type PacketPlace,
} from './packetPlace.ts';
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
/** Makes the watch of one pad. */
export const createStreamWatch = (): StreamWatch => {
  /** Newest packet that was accepted, and what it was given. */
  let newest: PacketPlace | null = null;
  let newestIndex = 0;
  let newestClockMs = 0;
  let firstOfEpoch: PacketPlace | null = null;
  let aside: { readonly packet: Packet; readonly place: PacketPlace } | null = null;
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
    place: PacketPlace | null,
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
  const beginAgain = (
    packet: Packet,
    place: PacketPlace,
    reason: GapReason,
    out: Watched[],
  ): void => {
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
  const follow = (packet: Packet, place: PacketPlace, index: number, out: Watched[]): void => {
    const count = place.samples;
    const missing = index - next;
    if (missing > 0) out.push({ kind: 'gap', missing, reason: linkBroke ? 'link' : 'lost' });
    const from = Math.max(0, -missing);
    if (from > 0) old(index, Math.min(from, count), out);
    if (from < count) out.push(accept(packet, place, from, index, place.at));
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
    const step = resetStep(newest, place);
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
