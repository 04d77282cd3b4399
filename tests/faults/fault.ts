/** One fault that is brought about, and what came of it. */
export interface Fault {
  readonly name: string;
  /** What is done, in words for the table. */
  readonly done: string;
  /** Brings it about in the folder, which is empty; `share` of 1 is the full run. */
  readonly run: (dir: string, share: number) => Promise<Observed>;
}

/** What was seen, every word and number of it taken from the run. */
export interface Observed {
  /** What the user sees, in the order in which it came; never empty. */
  readonly seen: readonly string[];
  /** What the records hold afterwards. */
  readonly kept: string;
  /** How the pads that are not at fault went on; null where there is none. */
  readonly others: { readonly unbroken: boolean; readonly figures: string } | null;
  /** Corners at fault that no line of `seen` names; wanted empty. */
  readonly unnamed: readonly string[];
  /** Records that were acknowledged, and how many of them are not found whole; wanted 0. */
  readonly acknowledged: number;
  readonly lost: number;
  /** Frames looked at, and those that showed as live what was not heard lately; wanted 0. */
  readonly frames: number;
  readonly staleAsLive: number;
}
