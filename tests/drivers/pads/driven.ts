import { setImmediate } from 'node:timers/promises';
import type { PadsEvent, PadsPort, PadStatus } from '../../../core/bench/ports.ts';
import type { Fault } from '../../../core/faults.ts';
import type { PadSample } from '../../../core/reading.ts';
import type { DrivenScheduler } from '../../../core/scheduler.ts';
import { second } from '../../../core/units.ts';

/** Moves driven time on in steps, letting every promise settle after each. */
export const run = async (
  scheduler: DrivenScheduler,
  seconds: number,
  step = 0.005,
): Promise<void> => {
  const steps = Math.round(seconds / step);
  for (let k = 0; k < steps; k++) {
    scheduler.advance(second(step));
    // Promise chains here are short; a few turns of the microtask queue empty them.
    for (let turn = 0; turn < 12; turn++) await Promise.resolve();
    if (k % 50 === 0) await setImmediate();
  }
  await setImmediate();
};

/** Everything a port said, sorted. */
export interface Heard {
  readonly events: PadsEvent[];
  readonly samples: Map<string, PadSample[]>;
  readonly gaps: Extract<PadsEvent, { kind: 'gap' }>[];
  readonly faults: Fault[];
  pads: readonly PadStatus[];
  readonly stop: () => Promise<void>;
}

export const listen = (port: PadsPort): Heard => {
  const events: PadsEvent[] = [];
  const samples = new Map<string, PadSample[]>();
  const gaps: Heard['gaps'] = [];
  const faults: Fault[] = [];
  const heard: Heard = {
    events,
    samples,
    gaps,
    faults,
    pads: [],
    stop: port.start((event) => {
      events.push(event);
      if (event.kind === 'samples')
        samples.set(event.serial, [...(samples.get(event.serial) ?? []), ...event.samples]);
      else if (event.kind === 'gap') gaps.push(event);
      else if (event.kind === 'fault') faults.push(event.fault);
      else if (event.kind === 'pads') heard.pads = event.pads;
    }),
  };
  return heard;
};
