import { fault, type Fault } from '../../core/faults.ts';
import type { Second } from '../../core/units.ts';
import { storeFault } from './storeFault.ts';

/** What the store uses of a schema of `core`; the library behind it is core's business. */
export interface Schema<T> {
  parse(value: unknown): T;
  safeParse(value: unknown):
    | { readonly success: true; readonly data: T }
    | {
        readonly success: false;
        readonly error: {
          readonly issues: readonly {
            readonly path: readonly PropertyKey[];
            readonly message: string;
          }[];
        };
      };
}

/** JSON as it was stored, of which nothing is known yet. Throws SyntaxError where it is none. */
export const fromJson = (text: string): unknown => JSON.parse(text);

/**
 * Reads from the database. What does not parse is left out and reported, never mended: the row
 * stays as it is in the file.
 */
export interface Reading {
  /** Runs a read; where the database itself fails, the fault is noted and `otherwise` given. */
  attempt<T>(otherwise: T, read: () => T): T;
  /** Parses what was stored; null and a fault naming `subject` where it is not as it should be. */
  parse<T>(schema: Schema<T>, subject: string, stored: () => unknown): T | null;
  /** Notes that a record cannot be read, once for each record. */
  unreadable(subject: string, why: string): void;
}

export const createReading = (faults: Fault[], now: () => Second, file: string): Reading => {
  const reported = new Set<string>();
  const unreadable = (subject: string, why: string): void => {
    if (reported.has(subject)) return;
    reported.add(subject);
    faults.push(fault('store-record-unreadable', now(), { subject, detail: why }));
  };
  return {
    unreadable,
    attempt: (otherwise, read) => {
      try {
        return read();
      } catch (error) {
        const met = storeFault(error, now(), file);
        // A failing disk is asked again and again: the same answer is noted once.
        const said = (one: Fault): boolean => one.code === met.code && one.detail === met.detail;
        if (!faults.some(said)) faults.push(met);
        return otherwise;
      }
    },
    parse: (schema, subject, stored) => {
      try {
        const parsed = schema.safeParse(stored());
        if (parsed.success) return parsed.data;
        const issue = parsed.error.issues[0];
        unreadable(subject, issue ? `${issue.path.join('.')}: ${issue.message}` : 'does not parse');
      } catch (error) {
        unreadable(subject, error instanceof Error ? error.message : String(error));
      }
      return null;
    },
  };
};
