import type { Measured } from '../measured.ts';
import { refuse } from './answering.ts';
import { meanCounts } from './meanCounts.ts';
import { isLive, type PadFeed } from './padFeed.ts';
import type { Answer } from './screens.ts';
import type { BenchWorkings } from './workings.ts';

/** The settled reading of one pad: its mean counts over the window in which it lay still. */
export interface PadRead {
  readonly feed: PadFeed;
  readonly window: { readonly from: number; readonly to: number };
  readonly counts: Measured;
  /** Standard deviation of single readings, counts. */
  readonly sd: number;
  readonly flags: number;
}

export type PadReadOutcome =
  { readonly ok: true; readonly read: PadRead } | { readonly ok: false; readonly answer: Answer };

const not = (why: string, next: string): PadReadOutcome => ({
  ok: false,
  answer: refuse(why, next),
});

/** Reads the pad that is watched; refused, with why, while it is not live or not still. */
export const readPad = (bench: BenchWorkings, padSerial: string): PadReadOutcome => {
  const feed = bench.feedOf(padSerial);
  if (!feed || feed.lastAt === null)
    return not(`Nothing heard from ${padSerial} yet.`, 'Switch it on and bring it near.');
  if (!isLive(feed, bench.now()))
    return not(
      `${padSerial}: nothing heard for ${(bench.now() - feed.lastAt).toFixed(1)} s.`,
      'It is being looked for; see the Pads screen.',
    );
  if (bench.watch.serial !== padSerial) {
    bench.watch.watch(padSerial);
    return not(`${padSerial} was not watched yet.`, 'Wait until it lies still.');
  }
  const { window } = bench.watch.now();
  if (!window) return not(`${padSerial} has not settled.`, 'Wait; nobody touching pad or masses.');
  const mean = meanCounts(feed, window);
  if (!mean) return not(`${padSerial}: too few samples.`, 'Wait a moment.');
  const { mean: value, u, dof, sd, flags } = mean;
  return { ok: true, read: { feed, window, counts: { value, u, dof }, sd, flags } };
};
