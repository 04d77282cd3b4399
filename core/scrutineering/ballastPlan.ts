import type { BallastCounts } from './ballastProblem.ts';
import type { BallastRank, BallastWorth } from './ballastWorth.ts';

/** A plan, and whether it is proved that none is better (of those not named before it). */
export interface BallastPlan {
  readonly counts: BallastCounts;
  readonly worth: BallastWorth;
  readonly isProved: boolean;
  /** No plan is better than this; null while nothing is known. The gap is between it and `worth`. */
  readonly bound: BallastRank | null;
}

/** A limit that is in the way, and by how much it is missed at the nearest, kg or plates. */
export interface InTheWay {
  readonly limit: string;
  readonly by: number;
  readonly unit: 'kg' | 'plates';
}

/** What a search comes to. */
export type BallastResult =
  | { readonly kind: 'plan'; readonly best: BallastPlan; readonly others: readonly BallastPlan[] }
  /**
   * Proved that there is none. In the way is each limit that alone prevents one; where no single one does,
   * those that do `together`. None is named where the time ran out.
   */
  | {
      readonly kind: 'no plan';
      readonly inTheWay: readonly InTheWay[];
      readonly together: boolean;
    }
  /** Neither a plan nor a proof in the time given. */
  | { readonly kind: 'not found' };

/** How planning ended. */
export type BallastEnd =
  | BallastResult
  /** The problem itself is wrong: sentences that say what to do. */
  | { readonly kind: 'refused'; readonly why: readonly string[] }
  | { readonly kind: 'cancelled' }
  /** The solver broke; better plans that were said still hold. */
  | { readonly kind: 'failed'; readonly why: string };
