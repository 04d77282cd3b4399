import type { BenchState } from '../contract/events.ts';
import type { Capture, RawWindow } from '../contract/records.ts';
import type { Corner, PerCorner } from '../corners.ts';
import type { EarlyReading } from '../signal/early/early.ts';
import type { Second } from '../units.ts';
import type { BackingUp } from './backingUp.ts';
import type { BallastPlanning } from './ballastPlanning.ts';
import type { Calibrating } from './calibrating.ts';
import type { KeptBook } from './keptBook.ts';
import type { Memory } from './memory.ts';
import type { PadCalibrations } from './padCalibrations.ts';
import type { PadFeed } from './padFeed.ts';
import type { PadWatch } from './padWatch.ts';
import type { PadsPort, PadSource, PracticePort } from './ports.ts';
import type { SeasonRecords } from './seasonRecords.ts';
import type { StillnessNow } from './stillness.ts';
import type { ZeroRecord } from './storePort.ts';
import type { Measured } from '../measured.ts';
import type { PadRating } from '../reading.ts';

/** The inside of the bench, as its commands see it. */
export interface BenchWorkings {
  readonly memory: Memory;
  readonly practice: PracticePort | null;
  readonly book: KeptBook;
  readonly season: SeasonRecords;
  readonly calibrations: PadCalibrations;
  readonly calibrating: Calibrating;
  readonly ballast: BallastPlanning;
  readonly backingUp: BackingUp;
  readonly watch: PadWatch;
  /** Mean counts of the pad in series with nothing pressed, by the calibration at work. */
  readonly referenceZero: Map<string, Measured>;
  now(): Second;
  wallClock(): number;
  newId(): string;
  /** g at the venue, m/s². */
  gravity(): number;
  pads(): PadsPort;
  under(): PerCorner<PadFeed | null>;
  /** The four feeds, when all four corners have one. */
  allUnder(): PerCorner<PadFeed> | null;
  feeds(): ReadonlyMap<string, PadFeed>;
  feedOf(padSerial: string): PadFeed | null;
  /** The maker's rating; null while the pad was not heard. */
  ratingOf(padSerial: string): PadRating | null;
  /** Every zero of a pad, oldest first. */
  zerosOf(padSerial: string): readonly ZeroRecord[];
  stillness(): StillnessNow;
  /** Where the car is going to settle; null where nothing can be said. */
  early(): EarlyReading | null;
  /** Shuts the source that is open, if any, and opens another. */
  openPads(source: PadSource): Promise<void>;
  /** Zeros were taken or a pad changed its corner: stillness is judged anew. */
  startAnew(): void;
  askForPress(corner: Corner | null): void;
  /** As the screens are told it. */
  state(): BenchState;
  /** Those of the ids that are in the database, in their order. */
  capturesById(ids: readonly string[]): readonly Capture[];
  openCapture(id: string): { readonly capture: Capture; readonly window: RawWindow } | null;
}
