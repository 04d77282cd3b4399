import type { BackupsNow } from '../contract/backups.ts';
import type { BenchState, PadShown } from '../contract/events.ts';
import type { GuestsShown } from '../contract/guests.ts';
import type { MassSet } from '../sheet/massSet.ts';
import { perCorner, type Corner } from '../corners.ts';
import type { Fault } from '../faults.ts';
import type { Second } from '../units.ts';
import type { BallastPlanning } from './ballastPlanning.ts';
import type { Calibrating, Draft } from './calibrating.ts';
import type { KeptBook } from './keptBook.ts';
import type { Memory } from './memory.ts';
import type { PadCalibrations } from './padCalibrations.ts';
import type { ZeroRecord } from './storePort.ts';
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
  readonly wallAt: number;
  readonly book: KeptBook;
  readonly calibrations: PadCalibrations;
  readonly calibrating: Calibrating;
  readonly ballast: BallastPlanning;
  readonly guests: GuestsShown;
  readonly copies: BackupsNow;
  readonly massSets: readonly MassSet[];
  readonly watched: string | null;
}

const zeroShown = (zero: ZeroRecord | null): PadShown['zero'] => {
  if (!zero) return null;
  const { takenAt, counts, u, temperature } = zero;
  return { takenAt, counts, u, temperature };
};

const calibrationShown = (serial: string, now: BenchNow): PadShown['calibration'] => {
  const used = now.calibrations.inUse(serial);
  if (!used) return null;
  const { id, kind, madeAt, place, inSpiteOf } = used.record;
  return { id, kind, madeAt, place, inSpiteOf, uRelative: used.calibration.uRelative };
};

const checkShown = (serial: string, now: BenchNow): PadShown['check'] => {
  const used = now.calibrations.inUse(serial)?.record.id ?? null;
  const newest = now.book
    .of('mass check', serial)
    .findLast(({ calibrationId }) => calibrationId === used);
  return newest ? { at: newest.at, relative: newest.relative, state: newest.state } : null;
};

const draftShown = ({ begun, points }: Draft): BenchState['unfinished'][number] => ({
  id: begun.id,
  padSerial: begun.subject,
  begunAt: begun.at,
  kind: begun.reference ? 'transfer' : 'masses',
  with: begun.reference?.padSerial ?? begun.masses?.name ?? '',
  points: points.filter(({ undone }) => !undone).length,
});

const padShown = (pad: PadStatus, now: BenchNow): PadShown => {
  const { rating, ...rest } = pad;
  return {
    ...rest,
    faults: [...pad.faults],
    ratedLoad: rating?.ratedLoad ?? null,
    corner: pad.serial === null ? null : now.memory.cornerOf(pad.serial),
    calibrated:
      (pad.serial !== null && now.feeds.get(pad.serial)?.calibration?.calibrated) || false,
    calibration: pad.serial === null ? null : calibrationShown(pad.serial, now),
    zero: pad.serial === null ? null : zeroShown(now.memory.zeroOf(pad.serial)),
    check: pad.serial === null ? null : checkShown(pad.serial, now),
  };
};

/** The bench as data for the screens: nothing in it is shared with the bench itself. */
export const benchState = (now: BenchNow): BenchState => {
  const { memory } = now;
  return {
    t: now.t,
    wallAt: now.wallAt,
    source: now.open ? memory.source : null,
    radio: now.radio.state,
    radioFault: now.radio.fault,
    settings: memory.settings,
    car: memory.car,
    cars: [...memory.cars],
    venue: memory.venue,
    venues: [...memory.venues],
    aside: now.book
      .newest('set aside')
      .flatMap(({ subject, isAside }) => (isAside ? [subject] : [])),
    gravity: now.gravity,
    outing: { id: memory.outing.id, name: memory.outing.name, begunAt: memory.outing.begunAt },
    pads: now.pads.map((pad) => padShown(pad, now)),
    assigned: memory.assigned,
    zeros: perCorner((corner) => {
      const serial = memory.assigned[corner];
      return serial === null ? null : zeroShown(memory.zeroOf(serial));
    }),
    askingForPress: now.askingForPress,
    kept: now.book.kept,
    massSets: [...now.massSets],
    unfinished: now.calibrating.unfinished().map(draftShown),
    calibrating: now.calibrating.soFar(),
    watched: now.watched,
    padDescriptions: now.book
      .newest('pad description')
      .flatMap(({ subject, text, isAside }) => (isAside ? [] : [{ name: subject, text }])),
    ballast: now.ballast.shown(),
    guests: now.guests,
    copies: now.copies,
    carState: memory.carState,
    agreedCarState: memory.agreedCarState,
    captures: [...memory.captures],
    practice: now.practice ? now.practice.state() : null,
    faults: [...now.faults],
  };
};
