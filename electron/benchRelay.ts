import type { Bench, Joined } from '../core/bench/bench.ts';
import type { FromBench, ToBench } from './gate.ts';

/** Carries text between the host's screens and the bench, each screen by its number. */
export interface BenchRelay {
  /** Takes one message of the host, except `stop`, which is the process's business. */
  receive(message: Exclude<ToBench, { readonly kind: 'stop' }>): void;
  /** Lets every screen leave. */
  close(): void;
}

/** Makes the relay inside the bench process. A number joined twice is joined anew. */
export const createBenchRelay = (bench: Bench, send: (message: FromBench) => void): BenchRelay => {
  const screens = new Map<number, Joined>();

  const leave = (screen: number): void => {
    screens.get(screen)?.leave();
    screens.delete(screen);
  };

  return {
    receive: (message) => {
      const { screen } = message;
      if (message.kind === 'leave') leave(screen);
      else if (message.kind === 'text') screens.get(screen)?.receive(message.text);
      else {
        leave(screen);
        const joined = bench.join(
          (text) => send({ kind: 'text', screen, text }),
          (why) => send({ kind: 'refused', screen, why }),
        );
        screens.set(screen, joined);
      }
    },
    close: () => {
      for (const screen of screens.keys()) leave(screen);
    },
  };
};
