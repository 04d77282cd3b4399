import { describe, test } from 'vitest';

/** Vitest's own test body, with the timeout in milliseconds after it. */
type Body = () => void | Promise<void>;

export interface NeedingTest {
  test(name: string, body: Body, timeoutMs?: number): void;
  /** `body` declares tests and hooks; it is not called where the thing is missing. */
  describe(name: string, body: () => void): void;
}

export interface Need {
  /** Whether the machine has what the tests need. */
  readonly has: boolean;
  /** What is missing and how to get it: half a sentence, printed with the skip. */
  readonly reason: string;
  /** Whether a machine that runs CI may lack it too; otherwise the missing thing fails there. */
  readonly mayLackInCi?: boolean;
}

/**
 * Tests that need something of the machine: a browser, an emulator, a data folder. Where it is
 * missing each is reported as skipped, with the reason; in CI it fails.
 */
export const needs = ({ has, reason, mayLackInCi = false }: Need): NeedingTest => {
  const instead = (name: string): void => {
    if (process.env['CI'] && !mayLackInCi)
      test(name, () => {
        throw new Error(`not to be skipped in CI: ${reason}`);
      });
    else test(name, (context) => context.skip(reason));
  };
  return {
    test: (name, body, timeoutMs) => {
      if (has) test(name, body, timeoutMs);
      else instead(name);
    },
    describe: (name, body) => {
      if (has) describe(name, body);
      else instead(name);
    },
  };
};
