import type { Capture, RawWindow } from '../contract/records.ts';
import type { Corner, PerCorner } from '../corners.ts';
import type { Second } from '../units.ts';
import type { Memory } from './memory.ts';
import type { PadFeed } from './padFeed.ts';
import type { PadsPort, PadSource, PracticePort } from './ports.ts';
import type { StillnessNow } from './stillness.ts';

/** The inside of the bench, as its commands see it. */
export interface BenchWorkings {
  readonly memory: Memory;
  readonly practice: PracticePort | null;
  now(): Second;
  wallClock(): number;
  newId(): string;
  /** g at the venue, m/s². */
  gravity(): number;
  pads(): PadsPort;
  under(): PerCorner<PadFeed | null>;
  /** The four feeds, when all four corners have one. */
  allUnder(): PerCorner<PadFeed> | null;
  stillness(): StillnessNow;
  /** Shuts the source that is open, if any, and opens another. */
  openPads(source: PadSource): Promise<void>;
  /** Zeros were taken or a pad changed its corner: stillness is judged anew. */
  startAnew(): void;
  askForPress(corner: Corner | null): void;
  openCapture(id: string): { readonly capture: Capture; readonly window: RawWindow } | null;
}
