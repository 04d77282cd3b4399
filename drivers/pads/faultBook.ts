import { fault, type Fault, type FaultCode } from '../../core/faults.ts';
import type { Scheduler } from '../../core/scheduler.ts';
import { WAITS } from './deadlines.ts';

/**
 * The faults of one pad: those that hold, and those that happened within the last minute. A fault
 * that goes on is told once, and one that comes again and again not more than every ten seconds.
 */
export interface FaultBook {
  /** It happened, and is over. */
  happened(code: FaultCode, detail?: string): void;
  /** It holds until `ended`. */
  holds(code: FaultCode, detail?: string): void;
  ended(code: FaultCode): void;
  /** What holds or happened lately, newest first. */
  shown(): readonly Fault[];
}

interface Entry {
  fault: Fault;
  isHolding: boolean;
  toldAt: number;
}

/** Makes a book; `subject` names the pad as far as it is known, `tell` is called for the log. */
export const createFaultBook = (options: {
  readonly scheduler: Scheduler;
  readonly subject: () => string | null;
  readonly tell: (told: Fault) => void;
}): FaultBook => {
  const { scheduler, subject, tell } = options;
  const entries = new Map<FaultCode, Entry>();

  const note = (code: FaultCode, detail: string | null, isHolding: boolean): void => {
    const now = scheduler.now();
    const before = entries.get(code);
    const isTold = !before || now - before.toldAt >= WAITS.faultAgain;
    const happened = fault(code, now, { subject: subject(), detail });
    entries.set(code, { fault: happened, isHolding, toldAt: isTold ? now : before.toldAt });
    if (isTold) tell(happened);
  };

  return {
    happened: (code, detail) => {
      if (!entries.get(code)?.isHolding) note(code, detail ?? null, false);
    },
    holds: (code, detail) => {
      if (!entries.get(code)?.isHolding) note(code, detail ?? null, true);
    },
    ended: (code) => {
      const entry = entries.get(code);
      if (entry) entry.isHolding = false;
    },
    shown: () => {
      const now = scheduler.now();
      for (const [code, entry] of entries)
        if (!entry.isHolding && now - entry.fault.at > WAITS.faultShown) entries.delete(code);
      return [...entries.values()].map((entry) => entry.fault).sort((a, b) => b.at - a.at);
    },
  };
};
