import type { Fault, Observed } from './fault.ts';

/** The table of faults, made of what a run observed. */
export const TABLE_HEAD = [
  '| fault | what is done | what the user sees | what is kept | the other pads |',
  '|---|---|---|---|---|',
] as const;

const cell = (text: string): string => text.replaceAll('|', '/').replaceAll('\n', ' ');

export const faultRow = ({ name, done }: Fault, observed: Observed): string => {
  const { seen, kept, others } = observed;
  return `| ${[name, done, seen.join(' · '), kept, others?.figures ?? '—'].map(cell).join(' | ')} |`;
};

/**
 * The claims: what was acknowledged is there, nothing is shown as live that is not, the others go on
 * unbroken, something is seen, and it names the corner at fault.
 */
export const isSound = ({ seen, lost, staleAsLive, others, unnamed }: Observed): boolean =>
  lost === 0 &&
  staleAsLive === 0 &&
  (others?.unbroken ?? true) &&
  seen.length > 0 &&
  unnamed.length === 0;
