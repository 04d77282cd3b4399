import type { LinkPhase } from '../../../core/bench/ports.ts';
import type { PadShown } from '../../../core/contract/events.ts';
import { fixed } from '../../../core/format/number.ts';

/** The phase of a pad's link as people say it. */
export const PHASE_WORDS: Readonly<Record<LinkPhase, string>> = {
  found: 'heard, not connected',
  waiting: 'waiting its turn',
  connecting: 'connecting',
  discovering: 'asking what it can do',
  subscribing: 'asking for samples',
  live: 'live',
  lost: 'lost',
  'backing off': 'resting before the next try',
  refused: 'not used',
};

/** Bars of a received signal, 0 to 4, and the word: limits are common practice, no source. */
export const signalWords = (
  dbm: number | null,
): { readonly bars: number; readonly text: string } => {
  if (dbm === null) return { bars: 0, text: 'unknown' };
  const bars = [-90, -80, -70, -60].filter((limit) => dbm > limit).length;
  const word = ['very weak', 'weak', 'fair', 'good', 'strong'][bars] ?? '';
  return { bars, text: `${word}, ${fixed(dbm, 0)}\u00A0dBm` };
};

/** Samples that did not come as they should: "3 missing, 1 late", or none of so many. */
export const lossWords = ({ received, missing, duplicates, late }: PadShown): string => {
  const parts = [
    missing > 0 ? `${missing} missing` : '',
    duplicates > 0 ? `${duplicates} twice` : '',
    late > 0 ? `${late} late` : '',
  ].filter(Boolean);
  return parts.length === 0
    ? `none of ${received}`
    : `${parts.join(', ')} of ${received + missing}`;
};
