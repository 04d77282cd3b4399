import type { PadsEvent, PadStatus } from '../../core/bench/ports.ts';
import type { Scheduler } from '../../core/scheduler.ts';
import { createFaultBook, type FaultBook } from './faultBook.ts';
import type { Introduced } from './introduction.ts';
import { createPadStream, type PadStream } from './padStream.ts';

/**
 * Pads by serial number: which link has each, and its stream, which outlives links and addresses.
 */
export interface PadDirectory {
  /** Takes the serial number for the link `key`; null while another link has it. */
  readonly claim: (pad: Introduced, key: string) => PadStream | null;
  /** The link `key` is over. */
  readonly unclaim: (key: string) => void;
  /** The link that has the pad now. */
  keyOf(serial: string): string | undefined;
  /** The newest payload of a pad; null where none was heard. */
  lastPayload(serial: string): Uint8Array | null;
  /** What the stream knows of a pad; null where there was none. */
  statusOf(
    serial: string | null,
  ): Pick<
    PadStatus,
    'rate' | 'received' | 'missing' | 'duplicates' | 'late' | 'onFor' | 'faults'
  > | null;
}

interface Known {
  readonly model: string;
  readonly stream: PadStream;
  readonly faults: FaultBook;
}

/** Makes an empty directory. */
export const createPadDirectory = (options: {
  readonly scheduler: Scheduler;
  readonly emit: (event: PadsEvent) => void;
  /** The pad is on this link from now on. */
  readonly moved: (serial: string, toKey: string) => void;
  /** A serial number became free. */
  readonly free: (serial: string) => void;
}): PadDirectory => {
  const { scheduler, emit, moved, free } = options;
  const streams = new Map<string, Known>();
  const holders = new Map<string, string>();

  const streamOf = ({ serial, model, rating }: Introduced): PadStream => {
    const before = streams.get(serial);
    if (before?.model === model.name) return before.stream;
    const faults = createFaultBook({
      scheduler,
      subject: () => serial,
      tell: (told) => emit({ kind: 'fault', fault: told }),
    });
    const resolution = rating?.resolution ?? 1;
    const stream = createPadStream({ serial, model, resolution, faults, emit });
    streams.set(serial, { model: model.name, stream, faults });
    return stream;
  };

  return {
    claim: (pad, key) => {
      const holder = holders.get(pad.serial);
      if (holder !== undefined && holder !== key) return null;
      holders.set(pad.serial, key);
      moved(pad.serial, key);
      return streamOf(pad);
    },
    unclaim: (key) => {
      for (const [serial, holder] of [...holders])
        if (holder === key) {
          holders.delete(serial);
          free(serial);
        }
    },
    keyOf: (serial) => holders.get(serial),
    lastPayload: (serial) => streams.get(serial)?.stream.lastPayload ?? null,
    statusOf: (serial) => {
      const known = serial === null ? undefined : streams.get(serial);
      if (!known) return null;
      const { received, missing, duplicates, late } = known.stream.counts;
      const rate = known.stream.rate(scheduler.now());
      const { onFor } = known.stream;
      return { rate, received, missing, duplicates, late, onFor, faults: known.faults.shown() };
    },
  };
};
