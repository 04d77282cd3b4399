import type { Intake } from './intake.ts';
import type { KeptBook } from './keptBook.ts';
import type { Memory } from './memory.ts';
import { NO_PADS } from './noPads.ts';
import type { OpenPads, PadsPort, PadSource, PracticePort } from './ports.ts';
import { createPracticeOpening, type PracticeOpening } from './practiceOpening.ts';

/** The source of pads that is open, if any. */
export interface OpenedPads {
  readonly isOpen: boolean;
  readonly pads: PadsPort;
  readonly practice: PracticePort | null;
  readonly opening: PracticeOpening | null;
  /** Shuts the source that is open and opens another. */
  switchTo(source: PadSource): Promise<void>;
  close(): Promise<void>;
}

export const createOpenedPads = (of: {
  readonly openPads: OpenPads;
  readonly memory: Memory;
  readonly book: KeptBook;
  /** g at the venue, m/s². */
  readonly gravity: () => number;
  readonly intake: Pick<Intake, 'clear' | 'take'>;
}): OpenedPads => {
  const { memory, book, intake } = of;
  let closePads: () => Promise<void> = async () => {};
  let isOpen = false;
  let pads = NO_PADS;
  let practice: PracticePort | null = null;
  let opening: PracticeOpening | null = null;

  const switchNow = async (source: PadSource): Promise<void> => {
    const close = closePads;
    closePads = async () => {};
    isOpen = false;
    pads = NO_PADS;
    practice = null;
    opening = null;
    await close();
    intake.clear();
    const opened = of.openPads(
      source,
      book.newest('pad description').flatMap(({ text, isAside }) => (isAside ? [] : [text])),
    );
    pads = opened.pads;
    practice = opened.practice;
    practice?.standAt(of.gravity());
    opening = practice ? createPracticeOpening(memory, practice) : null;
    closePads = pads.start(intake.take);
    isOpen = true;
  };
  // One switch after the other: two at once would leave a source open that nobody closes.
  let switching: Promise<void> = Promise.resolve();

  return {
    get isOpen() {
      return isOpen;
    },
    get pads() {
      return pads;
    },
    get practice() {
      return practice;
    },
    get opening() {
      return opening;
    },
    switchTo: (source) => {
      switching = switching.then(() => switchNow(source));
      return switching;
    },
    close: async () => {
      await switching;
      await closePads();
    },
  };
};
