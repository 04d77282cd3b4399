import { average, type Average } from '../signal/average.ts';
import type { PadFeed } from './padFeed.ts';

/** A mean of a pad's counts over a window, with everything that was flagged within. */
export interface CountsMean extends Average {
  /** Sum of SAMPLE_FLAGS seen. */
  readonly flags: number;
}

/** The mean counts of one pad over [from, to], s; null where there are too few samples. */
export const meanCounts = (
  feed: PadFeed,
  { from, to }: { readonly from: number; readonly to: number },
): CountsMean | null => {
  const { ring } = feed;
  const part = { from: ring.firstAt(from), to: ring.firstAt(to) };
  const size = Math.max(0, part.to - part.from);
  const column = (name: 't' | 'clean' | 'flags'): Float64Array => {
    const out = new Float64Array(size);
    ring.copy(name, part, out);
    return out;
  };
  const flags = column('flags');
  const mean = average({ t: column('t'), x: column('clean'), flags });
  return mean && { ...mean, flags: flags.reduce((seen, each) => seen | each, 0) };
};
