/** A simulation study: full by `npm run study -- NAME`, reduced and with fixed seeds in `npm test`. */
export interface Study {
  /** As it is called on the command line. */
  readonly name: string;
  /** One line: what it shows and what is wanted. */
  readonly about: string;
  /**
   * Runs it. `share` of 1 is the full study, less a reduced one with the same seeds from the first.
   * Each line of its report goes to `say`.
   */
  readonly run: (share: number, say: (line: string) => void) => void | Promise<void>;
}
