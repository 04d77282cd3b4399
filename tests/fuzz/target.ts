import type { Random } from '../../drivers/pads/rig/random.ts';
import type { Change } from './changes.ts';

/** What is fed to a target: bytes as they are, everything else as text. */
export interface Target<Input extends Uint8Array | string> {
  readonly name: string;
  readonly kind: 'bytes' | 'text';
  /** Ends of the names of the files whose ranges guide the search. */
  readonly files: readonly string[];
  /** Valid examples to begin with. */
  readonly seeds: readonly Input[];
  /** Longest input that is tried. */
  readonly longest: number;
  readonly change: Change<Input>;
  /**
   * Takes an input as the product would and looks at what came of it: true where it was accepted.
   * Throws `Nonsense` where an accepted input makes none, and lets through whatever the product throws.
   */
  readonly run: (input: Input) => boolean;
}

/** What was accepted makes no sense. */
export class Nonsense extends Error {
  override name = 'Nonsense';
}

export const must = (holds: boolean, what: string): void => {
  if (!holds) throw new Nonsense(what);
};

/** A whole number below `end`. */
export const below = (random: Random, end: number): number => Math.floor(random.uniform() * end);

export const pick = <T>(random: Random, from: readonly T[]): T =>
  from[below(random, from.length)] as T;

/** A coin that falls on heads one time in `times`. */
export const oneIn = (random: Random, times: number): boolean => random.uniform() * times < 1;
