import type { Outcome } from '../../core/bench/ports.ts';
import { fault, type Fault, type FaultCode } from '../../core/faults.ts';
import type { Second } from '../../core/units.ts';

/** SQLite's extended result code (`SQLITE_BUSY_SNAPSHOT`) or Node's (`ENOSPC`); '' where neither. */
export const errorCode = (error: unknown): string =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';

const codeOf = (error: unknown): FaultCode => {
  const code = errorCode(error);
  if (code === 'SQLITE_FULL' || code === 'ENOSPC') return 'store-full';
  if (code.startsWith('SQLITE_BUSY') || code.startsWith('SQLITE_LOCKED')) return 'store-busy';
  return 'store-failed';
};

/** Makes a fault of whatever a write or an opening ran into: full, busy, else failed. */
export const storeFault = (error: unknown, at: Second, subject: string | null): Fault => {
  const code = errorCode(error);
  const message = error instanceof Error ? error.message : String(error);
  return fault(codeOf(error), at, {
    subject,
    detail: code === '' ? message : `${code}: ${message}`,
  });
};

/** Runs a write and says how it went; never throws. */
export type Attempt = (work: () => void) => Outcome;

export const createAttempt =
  (now: () => Second, subject: string): Attempt =>
  (work) => {
    try {
      work();
      return { ok: true };
    } catch (error) {
      return { ok: false, fault: storeFault(error, now(), subject) };
    }
  };
