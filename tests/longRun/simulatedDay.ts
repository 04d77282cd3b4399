import { statSync } from 'node:fs';
import path from 'node:path';
import v8 from 'node:v8';
import vm from 'node:vm';
import { CORNERS } from '../../core/corners.ts';
import { startPracticeBench, type PracticeBench } from '../support/practiceBench.ts';

/** The whole bench at work for hours on a clock that is driven, and what it holds on to meanwhile. */

/** The car is lowered, weighed and raised again this often, s. */
const ROUND = 1800;

export interface Held {
  /** Simulated time, h. */
  readonly at: number;
  /** After a collection, MB: everything, of which the database's pages and blobs lie outside. */
  readonly heap: number;
  readonly outside: number;
  /** Timers that wait and handles that the process holds open. */
  readonly timers: number;
  readonly handles: number;
  readonly captures: number;
  /** Files with their logs, MB. */
  readonly recorder: number;
  readonly records: number;
}

v8.setFlagsFromString('--expose-gc');
const collect = vm.runInNewContext('gc') as () => void;

const megabytes = (dir: string, name: string): number =>
  ['', '-wal'].reduce((sum, end) => {
    const stat = statSync(path.join(dir, `${name}${end}`), { throwIfNoEntry: false });
    return sum + (stat?.size ?? 0) / 1e6;
  }, 0);

const look = (bench: PracticeBench, dir: string): Held => {
  collect();
  collect();
  const { heapUsed, external } = process.memoryUsage();
  return {
    at: bench.scheduler.now() / 3600,
    heap: heapUsed / 1e6,
    outside: external / 1e6,
    timers: bench.scheduler.waiting().length,
    handles: process.getActiveResourcesInfo().length,
    captures: bench.screen.state.captures.length,
    recorder: megabytes(dir, 'flight-recorder.db'),
    records: megabytes(dir, 'millpond.db'),
  };
};

/** One weighing: lowered, settled, captured, raised; the pads are charged before their batteries are flat. */
const weigh = async (bench: PracticeBench): Promise<void> => {
  const { screen } = bench;
  for (const pad of CORNERS) bench.rig.happen({ do: 'charge', pad, percent: 100 });
  await bench.settle(screen.command({ do: 'lower practice car' }));
  await bench.runUntil(() => screen.frame?.notReady === null, 60);
  await bench.settle(screen.command({ do: 'capture', phase: 'set-down', note: '' }));
  await bench.settle(screen.command({ do: 'raise practice car' }));
};

/**
 * Runs the practice rig, the device layer, the bench and the database in `dir` for so many simulated
 * hours: four pads at 80 Hz, a weighing every half hour. `tell` hears what is held each `every` hours.
 */
export const simulateDay = async (
  dir: string,
  { hours, every }: { readonly hours: number; readonly every: number },
  tell: (held: Held) => void,
): Promise<readonly Held[]> => {
  const bench = startPracticeBench({ dir, source: 'rig' });
  const seen: Held[] = [];
  try {
    await bench.runUntil(() => bench.screen.frame?.notReady === null, 120);
    await bench.settle(bench.screen.command({ do: 'raise practice car' }));
    let nextRound: number = bench.scheduler.now();
    for (let hour = every; hour <= hours + 1e-9; hour += every) {
      while (bench.scheduler.now() < hour * 3600 - 1) {
        if (bench.scheduler.now() >= nextRound) {
          await weigh(bench);
          nextRound += ROUND;
        }
        await bench.run(1);
      }
      const held = look(bench, dir);
      seen.push(held);
      tell(held);
    }
  } finally {
    await bench.stop();
  }
  return seen;
};
