import type { Refusal } from '../../core/contract/commands.ts';
import type { BenchState } from '../../core/contract/events.ts';
import { CORNERS, CORNER_NAMES, type Corner } from '../../core/corners.ts';
import { FAULTS, type Fault, type FaultCode } from '../../core/faults.ts';

/**
 * What a user sees while a fault goes on: lines of the fault log and of the radio, why Capture waits
 * or was refused, and which corners are live. Each line once, figures as they were first.
 */
export interface SeenWords {
  state(state: BenchState): void;
  notReady(why: string | null): void;
  refused(refusal: Refusal): void;
  /** Forgets what was seen, and what the log holds already. */
  begin(state: BenchState): void;
  told(
    atFault: readonly Corner[],
    liveShare: (corner: Corner) => number,
  ): { readonly seen: readonly string[]; readonly unnamed: readonly string[] };
}

/** A fault as every screen words it. */
export const faultWords = (code: FaultCode): string =>
  `${FAULTS[code].cause} ${FAULTS[code].remedy}`;

const keyOf = ({ code, subject, at }: Fault): string => `${code} ${subject} ${at}`;

/** Makes one; `cornerOf` gives the corner of a pad's serial number. */
export const createSeenWords = (cornerOf: (serial: string) => Corner | null): SeenWords => {
  const lines = new Map<string, string>();
  let known = new Set<string>();
  const add = (line: string): void => {
    const pattern = line.replaceAll(/\d+(\.\d+)?/g, '#');
    if (!lines.has(pattern)) lines.set(pattern, line);
  };
  const addFault = (fault: Fault): void => {
    if (known.has(keyOf(fault))) return;
    known.add(keyOf(fault));
    const { code, subject } = fault;
    const corner = subject === null ? null : cornerOf(subject);
    const about = [corner && CORNER_NAMES[corner], subject].filter((part) => part !== null);
    add(`${about.length > 0 ? `${about.join(', ')}: ` : ''}${faultWords(code)}`);
  };
  const name = (corner: Corner): string => CORNER_NAMES[corner];

  return {
    state: (state) => {
      for (const fault of state.faults.toReversed()) addFault(fault as Fault);
    },
    notReady: (why) => {
      if (why !== null) add(`Capture waits: ${why}`);
    },
    refused: ({ why, next }) => add(`Capture refused: ${why} ${next}`),
    begin: (state) => {
      known = new Set(state.faults.map((fault) => keyOf(fault as Fault)));
      lines.clear();
    },
    told: (atFault, liveShare) => {
      const shares = CORNERS.map((corner) => [corner, liveShare(corner)] as const);
      const broken = shares.filter(([, share]) => share < 1);
      const live =
        broken.length === 0
          ? 'All four live throughout.'
          : `Live: ${broken.map(([corner, share]) => `${name(corner)} in ${(100 * share).toFixed(0)} % of frames`).join(', ')}.`;
      const seen = [...lines.values(), live];
      const all = seen.join('\n').toLowerCase();
      return { seen, unnamed: atFault.filter((corner) => !all.includes(name(corner))) };
    },
  };
};
