import type { PadSample, StreamGap } from '../reading.ts';
import { second, type Second } from '../units.ts';
import type { RawChunk } from './storePort.ts';

/**
 * The flight recorder's gathering side: raw samples of every pad, cut into chunks of about a
 * second, handed to the store together. What the store does with them is its business.
 */

interface Gathered {
  wallAt: number;
  from: Second;
  t: number[];
  counts: number[];
  gaps: StreamGap[];
}

export interface Recorder {
  take(padSerial: string, samples: readonly PadSample[]): void;
  gap(padSerial: string, gap: StreamGap): void;
  /** The chunks since the last call; empty where nothing came. */
  cut(): readonly RawChunk[];
}

/** Makes a recorder; `wallClock` labels each chunk, ms. */
export const createRecorder = (wallClock: () => number): Recorder => {
  const pads = new Map<string, Gathered>();

  const gathered = (padSerial: string, from: Second): Gathered => {
    let pad = pads.get(padSerial);
    if (!pad) {
      pad = { wallAt: wallClock(), from, t: [], counts: [], gaps: [] };
      pads.set(padSerial, pad);
    }
    return pad;
  };

  return {
    take: (padSerial, samples) => {
      const first = samples[0];
      if (!first) return;
      const pad = gathered(padSerial, first.t);
      for (const sample of samples) {
        pad.t.push(sample.t - pad.from);
        pad.counts.push(sample.raw);
      }
    },
    gap: (padSerial, gap) => {
      gathered(padSerial, gap.to).gaps.push(gap);
    },
    cut: () => {
      const chunks = [...pads].map(([padSerial, pad]): RawChunk => ({
        padSerial,
        wallAt: pad.wallAt,
        from: second(pad.from),
        t: Float32Array.from(pad.t),
        counts: Int32Array.from(pad.counts),
        gaps: pad.gaps,
      }));
      pads.clear();
      return chunks;
    },
  };
};
