/** One number of a screen, and how it comes about: the words, the numbers put in, the source. */
export interface Worked {
  readonly what: string;
  /** The formula in words. */
  readonly formula: string;
  readonly put: readonly PutIn[];
  /** With its unit; why not where it is not known. */
  readonly result: string;
  readonly source: string;
}

/** A number that is put in, with its unit; "not known" where it is not. */
export interface PutIn {
  readonly name: string;
  readonly value: string;
}

export const NOT_KNOWN = 'not known';
