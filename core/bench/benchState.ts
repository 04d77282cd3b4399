import type { BenchState, PadShown } from '../contract/events.ts';
import { perCorner, type Corner } from '../corners.ts';
import type { Fault } from '../faults.ts';
import type { Second } from '../units.ts';
import type { Memory } from './memory.ts';
import type { PadFeed } from './padFeed.ts';
import type { PadStatus, PracticePort, RadioState } from './ports.ts';

/** What the bench holds at one moment, as far as a screen is told of it. */
export interface BenchNow {
  readonly t: Second;
  readonly memory: Memory;
  readonly open: boolean;
  readonly radio: { readonly state: RadioState; readonly fault: Fault | null };
  readonly pads: readonly PadStatus[];
  readonly feeds: ReadonlyMap<string, PadFeed>;
  readonly practice: PracticePort | null;
  readonly gravity: number;
  readonly askingForPress: Corner | null;
  readonly faults: readonly Fault[];
}

const padShown = (pad: PadStatus, now: BenchNow): PadShown => {
  const { rating, ...rest } = pad;
  return {
    ...rest,
    faults: [...pad.faults],
    ratedLoad: rating?.ratedLoad ?? null,
    corner: pad.serial === null ? null : now.memory.cornerOf(pad.serial),
    calibrated:
      (pad.serial !== null && now.feeds.get(pad.serial)?.calibration?.calibrated) || false,
  };
};

/** The bench as data for the screens: nothing in it is shared with the bench itself. */
export const benchState = (now: BenchNow): BenchState => {
  const { memory } = now;
  return {
    t: now.t,
    source: now.open ? memory.source : null,
    radio: now.radio.state,
    radioFault: now.radio.fault,
    settings: memory.settings,
    car: memory.car,
    cars: [...memory.cars],
    venue: memory.venue,
    venues: [...memory.venues],
    gravity: now.gravity,
    outing: { id: memory.outing.id, name: memory.outing.name, begunAt: memory.outing.begunAt },
    pads: now.pads.map((pad) => padShown(pad, now)),
    assigned: memory.assigned,
    zeros: perCorner((corner) => {
      const serial = memory.assigned[corner];
      const zero = serial === null ? null : memory.zeroOf(serial);
      if (!zero) return null;
      const { takenAt, counts, u, temperature } = zero;
      return { takenAt, counts, u, temperature };
    }),
    askingForPress: now.askingForPress,
    carState: memory.carState,
    agreedCarState: memory.agreedCarState,
    captures: [...memory.captures],
    practice: now.practice ? now.practice.state() : null,
    faults: [...now.faults],
  };
};
