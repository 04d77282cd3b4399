import type { BenchState } from '../contract/events.ts';
import type { KeptOf } from '../contract/kept.ts';
import type { CarRecord } from '../sheet/carRecord.ts';
import type { SetUpSheet } from '../sheet/setUpSheet.ts';

/** Screens that the walk goes to. */
export type WalkPlace = 'patch' | 'balance' | 'adjust' | 'measure' | 'compare' | 'scrutineering';

/** What the bench says and keeps while somebody walks: all that a step is judged by. */
export interface WalkFacts {
  readonly state: BenchState;
  /** All four corners are live and settled. */
  readonly isSettled: boolean;
  /** The screen that is looked at now; null for one that the walk does not go to. */
  readonly place: WalkPlace | null;
  /** When the walk began, by the bench's label, ms: what was done before does not count. */
  readonly begunAt: number;
  /** When the step at hand was come to, ms. */
  readonly stepBegunAt: number;
  /** Runs that the practice car had been on when the walk began. */
  readonly runsBefore: number;
  /** Kept in the world of practice, oldest first, of whatever time. */
  readonly surveys: readonly KeptOf<'patch survey'>[];
  readonly adjustments: readonly KeptOf<'adjustment'>[];
  readonly sheets: readonly SetUpSheet[];
  readonly records: readonly CarRecord[];
  readonly authorities: readonly KeptOf<'authority'>[];
  readonly pairs: readonly KeptOf<'pair'>[];
}
