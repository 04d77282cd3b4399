import { CORNERS, type Corner } from '../../core/corners.ts';
import type { Fault } from './fault.ts';
import { captureSettled, standOnPads, type FaultBench } from './faultBench.ts';

/** Faults of the computer: of its radio and of its clocks. */

const HOUR = 3600;

const onStanding =
  (during: (bench: FaultBench) => Promise<void>, others: readonly Corner[] = []): Fault['run'] =>
  async (dir) => {
    const bench = await standOnPads({ dir });
    await captureSettled(bench);
    bench.begin();
    await during(bench);
    await captureSettled(bench);
    return bench.finish({ atFault: [], others });
  };

const asleep = (clock: 'counts' | 'stands still'): Fault['run'] =>
  onStanding(async (bench) => {
    bench.sleep(HOUR, clock);
    // The first thing that runs is a press of Capture; the radio says only then that its links are gone.
    await bench.capture();
    await bench.run(0.1);
    bench.radio.cutLinks();
    await bench.run(0.5);
    await bench.capture();
  });

export const HOST_FAULTS: readonly Fault[] = [
  {
    name: 'adapter pulled and back',
    done: 'the Bluetooth adapter is pulled out and put back after 5 s',
    run: onStanding(async (bench) => {
      bench.radio.adapter('pulled');
      await bench.run(5);
      await bench.capture();
      bench.radio.adapter('in');
    }),
  },
  {
    name: 'asleep for an hour, clock counts',
    done: 'the computer sleeps for an hour which its monotonic clock counts; Capture is pressed as it wakes',
    run: asleep('counts'),
  },
  {
    name: 'asleep for an hour, clock stands still',
    done: 'the same where the monotonic clock stands still meanwhile',
    run: asleep('stands still'),
  },
  {
    name: 'clock set back',
    done: 'the wall clock is set back by an hour between two captures',
    run: onStanding(async (bench) => {
      bench.setWallClock(-HOUR);
      await bench.run(10);
    }, CORNERS),
  },
];
