import type { PadsEvent } from '../../core/bench/ports.ts';
import { SAMPLE_FLAGS, type PadSample } from '../../core/reading.ts';
import { second, type Second } from '../../core/units.ts';
import { createClockMap } from './clockMap.ts';
import type { FaultBook } from './faultBook.ts';
import { createFilter, type PadFilter } from './filter/filter.ts';
import type { PadModel } from './protocol/model.ts';
import { createRateMeter } from './rateMeter.ts';
import { createStreamWatch, type Watched } from './streamWatch.ts';

/**
 * One pad's stream, by serial number: bytes in, `PadSample` and holes out. It outlives links, so
 * that a pad that comes back goes on where it was. It knows nothing of radios.
 */
export interface PadStream {
  /** Takes one notification with its arrival on the host's clock. */
  received(bytes: Uint8Array, at: Second): void;
  /** The link ended: what is held back comes out, and the next hole is the link's. */
  linkLost(): void;
  readonly counts: StreamCounts;
  /** Seconds on the pad's own clock at its newest sample; null where it has none. */
  readonly onFor: number | null;
  /** The newest payload, as it came; null before the first. */
  readonly lastPayload: Uint8Array | null;
  /** Measured sample rate, Hz; null before a second of samples and when there are no new ones. */
  rate(now: number): number | null;
}

/** Samples by what became of them. */
export interface StreamCounts {
  readonly received: number;
  readonly missing: number;
  readonly duplicates: number;
  readonly late: number;
}

/** Equal counts in a row that a noisy converter does not make: at a noise of half a count, 1 in 10¹³. */
const STUCK_AFTER = 80;
/** Rate assumed where a model does not say its own, Hz; common practice for scales, no source. */
const USUAL_RATE = 10;
/** Least step between two mapped times, s: they never stand still or step back. */
const LEAST_STEP = 1e-6;

const HELD_FLAGS = [
  [SAMPLE_FLAGS.overload, 'pad-overload'],
  [SAMPLE_FLAGS.saturated, 'pad-saturated'],
  [SAMPLE_FLAGS.lowBattery, 'pad-low-battery'],
] as const;

/** Makes the stream of one pad. */
export const createPadStream = (options: {
  readonly serial: string;
  readonly model: PadModel;
  readonly resolution: number;
  readonly faults: FaultBook;
  readonly emit: (event: PadsEvent) => void;
}): PadStream => {
  const { serial, model, resolution, faults, emit } = options;
  const watch = createStreamWatch();
  const clock = createClockMap();
  const meter = createRateMeter();
  const counts = { received: 0, missing: 0, duplicates: 0, late: 0 };
  let filter: PadFilter | null = null;
  let filterRate = 0;
  let epoch = 0;
  let lastT = -Infinity;
  let gap: Extract<Watched, { kind: 'gap' }> | null = null;
  let lastFlags = 0;
  let lastRaw = Number.NaN;
  let onFor: number | null = null;
  let lastPayload: Uint8Array | null = null;
  let sameInRow = 0;

  const send = (samples: readonly PadSample[]): void => {
    if (samples.length > 0) emit({ kind: 'samples', serial, samples });
  };

  const flush = (): void => {
    const held = filter?.flush();
    if (held) send([held]);
  };

  const watchFlags = (flags: number): void => {
    for (const [bit, code] of HELD_FLAGS) {
      if (flags & bit && !(lastFlags & bit)) faults.holds(code);
      else if (!(flags & bit) && lastFlags & bit) faults.ended(code);
    }
    lastFlags = flags;
  };

  const watchStuck = (raw: number, flags: number): void => {
    const isBound = (flags & (SAMPLE_FLAGS.overload | SAMPLE_FLAGS.saturated)) !== 0;
    if (raw === lastRaw && !isBound) {
      sameInRow++;
      if (sameInRow === STUCK_AFTER) faults.holds('pad-stuck', `${raw} counts, ${sameInRow} times`);
      return;
    }
    if (sameInRow >= STUCK_AFTER) faults.ended('pad-stuck');
    sameInRow = 1;
    lastRaw = raw;
  };

  const filterFor = (rate: number, out: PadSample[]): PadFilter => {
    if (!filter) filter = createFilter({ rate, resolution });
    else if (filterRate !== rate) {
      const held = filter.setRate(rate);
      if (held) out.push(held);
    }
    filterRate = rate;
    return filter;
  };

  /** Samples that are new: placed in time, filtered, sent. */
  const samples = (found: Extract<Watched, { kind: 'samples' }>): void => {
    const { packet, from, index, clockMs, at } = found;
    const rate = packet.rate ?? USUAL_RATE;
    const step = 1 / rate;
    const size = packet.counts.length;
    let t = at - (size - 1) * step;
    if (clockMs !== null) {
      if (found.epoch !== epoch) clock.reset();
      epoch = found.epoch;
      const newest = clockMs / 1000 + (size - 1) * step;
      clock.learn(newest, at);
      t = clock.hostTime(newest) - (size - 1) * step;
      onFor = newest;
    }
    const out: PadSample[] = [];
    const into = filterFor(rate, out);
    for (let k = from; k < size; k++) {
      const sampleT = second(Math.max(t + k * step, lastT + LEAST_STEP));
      if (gap) {
        const { missing, reason } = gap;
        gap = null;
        if (lastT > -Infinity)
          emit({ kind: 'gap', serial, from: second(lastT), to: sampleT, missing, reason });
      }
      lastT = sampleT;
      const raw = packet.counts[k] as number;
      const flags = k === 0 ? packet.flags : packet.flags & ~SAMPLE_FLAGS.restarted;
      if (model.noisy) watchStuck(raw, flags);
      const finished = into.push({ index: index + k - from, t: sampleT, raw, flags });
      if (finished) {
        out.push(finished);
        if (finished.flags & SAMPLE_FLAGS.spike)
          faults.happened('spike-rejected', `${finished.raw} counts`);
      }
    }
    counts.received += size - from;
    meter.note(index + size - from, lastT);
    if (packet.flags !== lastFlags) watchFlags(packet.flags);
    send(out);
  };

  const take = (found: Watched): void => {
    switch (found.kind) {
      case 'samples':
        samples(found);
        return;
      case 'gap':
        flush();
        gap = found;
        counts.missing += found.missing ?? 0;
        if (found.reason === 'restarted') faults.happened('pad-restarted');
        else if (found.reason === 'lost')
          faults.happened('sample-gap', `${found.missing ?? 'unknown'} samples`);
        return;
      case 'duplicate':
        counts.duplicates += found.samples;
        faults.happened('sample-duplicate', `${found.samples} samples`);
        return;
      case 'late':
        counts.late += found.samples;
        faults.happened('sample-late', `${found.samples} samples`);
        return;
      case 'impossible':
        faults.happened('sample-impossible', found.why);
        return;
    }
  };

  return {
    received: (bytes, at) => {
      lastPayload = bytes;
      const decoded = model.decode(bytes);
      if (!decoded.ok) {
        faults.happened('payload-malformed', decoded.why);
        return;
      }
      for (const found of watch.take(decoded.packet, at)) take(found);
    },
    linkLost: () => {
      watch.linkLost();
      flush();
      if (sameInRow >= STUCK_AFTER) faults.ended('pad-stuck');
      sameInRow = 0;
      lastRaw = Number.NaN;
    },
    counts,
    get onFor() {
      return onFor;
    },
    get lastPayload() {
      return lastPayload;
    },
    rate: (now) => meter.rate(now),
  };
};
