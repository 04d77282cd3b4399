import type { Bench } from '../../core/bench/bench.ts';
import type { Command, Refusal, Result } from '../../core/contract/commands.ts';
import type { BenchState, Frame } from '../../core/contract/events.ts';
import { CONTRACT_VERSION, pushSchema, type Request } from '../../core/contract/messages.ts';

/** A screen without pixels: joins a bench through the contract, text both ways, as any screen does. */
export interface BenchScreen {
  readonly state: BenchState;
  readonly frame: Frame | null;
  /** Carries out a command; rejects with RefusedError where the bench refuses. */
  command(command: Command): Promise<Result>;
  /** Settles when the predicate holds after a push; the caller sets the deadline. */
  until(predicate: (screen: BenchScreen) => boolean): Promise<void>;
  leave(): void;
}

export class RefusedError extends Error {
  readonly refusal: Refusal;
  constructor(refusal: Refusal) {
    super(`${refusal.why} ${refusal.next}`.trim());
    this.refusal = refusal;
  }
}

/** Joins and says hello; the state is there when this returns. */
export const joinBench = (
  bench: Bench,
  onFrame: (frame: Frame) => void = () => {},
): BenchScreen => {
  let state: BenchState | null = null;
  let frame: Frame | null = null;
  let n = 0;
  const pending = new Map<number, { done(result: Result): void; refused(why: Refusal): void }>();
  const waiting = new Set<() => void>();

  const joined = bench.join(
    (text) => {
      const push = pushSchema.parse(JSON.parse(text));
      if (push.kind === 'state') state = push.state;
      if (push.kind === 'frame') {
        frame = push.frame;
        onFrame(frame);
        ask({ kind: 'frame taken', no: frame.no });
      }
      if (push.kind === 'done') pending.get(push.n)?.done(push.result);
      if (push.kind === 'refused') pending.get(push.n)?.refused(push.refusal);
      for (const look of waiting) look();
    },
    (why) => {
      throw new Error(`the bench refused a message: ${why}`);
    },
  );
  const ask = (request: Request): void => joined.receive(JSON.stringify(request));

  const screen: BenchScreen = {
    get state() {
      if (!state) throw new Error('no state yet');
      return state;
    },
    get frame() {
      return frame;
    },
    command: (command) =>
      new Promise((resolve, reject) => {
        n += 1;
        pending.set(n, { done: resolve, refused: (why) => reject(new RefusedError(why)) });
        ask({ kind: 'command', n, command });
      }),
    until: (predicate) =>
      new Promise((resolve) => {
        const look = (): void => {
          if (!predicate(screen)) return;
          waiting.delete(look);
          resolve();
        };
        waiting.add(look);
        look();
      }),
    leave: () => joined.leave(),
  };
  ask({ kind: 'hello', version: CONTRACT_VERSION });
  return screen;
};
