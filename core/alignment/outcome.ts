/** What hand measurements give: a result with what is to be said of it, or a refusal. */
export type Outcome<T> =
  | {
      readonly ok: true;
      readonly result: T;
      /** Sentences to stand beside the result: what it leaves out and what to do about it. */
      readonly warnings: readonly string[];
    }
  | Refused;

export interface Refused {
  readonly ok: false;
  /** What cannot be, in one sentence. */
  readonly why: string;
  /** What to do next, in one sentence. */
  readonly next: string;
}

export const refused = (why: string, next: string): Refused => ({ ok: false, why, next });

export const found = <T>(result: T, warnings: readonly string[] = []): Outcome<T> => ({
  ok: true,
  result,
  warnings,
});

/** A stated uncertainty that reaches beyond what the measurement itself can be. */
export const tooUncertain = refused(
  'An uncertainty is stated that is as large as what is measured.',
  'Check the uncertainty that is kept for this gauge or scale.',
);

/** One value for each side of the car. */
export interface Sides<T> {
  readonly left: T;
  readonly right: T;
}
