import { perCorner, type Corner, type PerCorner } from '../corners.ts';
import type { Fault } from '../faults.ts';
import { second } from '../units.ts';
import type { EarlyWatch } from './earlyWatch.ts';
import { cornersWithoutPad, type Memory } from './memory.ts';
import {
  createPadFeed,
  feedForce,
  feedGap,
  feedGiven,
  feedSamples,
  feedSlept,
  feedStatus,
  type PadFeed,
} from './padFeed.ts';
import type { PadCalibrations } from './padCalibrations.ts';
import type { PadWatch } from './padWatch.ts';
import type { PadsEvent, PadStatus, RadioState } from './ports.ts';
import { createPressWatch, type PressWatch } from './pressWatch.ts';
import type { Recorder } from './recorder.ts';
import type { Stillness } from './stillness.ts';

/** What comes in from the pads, put where it belongs: feeds, stillness, recorder, fault log. */
export interface Intake {
  readonly feeds: ReadonlyMap<string, PadFeed>;
  readonly statuses: readonly PadStatus[];
  readonly radio: { readonly state: RadioState; readonly fault: Fault | null };
  /** The corner for which a press is awaited. */
  readonly askingForPress: Corner | null;
  take(event: PadsEvent): void;
  /** The computer slept for so long and its clock stood still: nothing is live, nothing was still. */
  slept(seconds: number): void;
  /** The feed under each corner; null where no pad is assigned or it was never heard. */
  under(): PerCorner<PadFeed | null>;
  askForPress(corner: Corner | null): void;
  /** Corners or zeros changed: stillness is judged anew. */
  startAnew(): void;
  /** Another source of pads: forgets everything of the last. */
  clear(): void;
}

export interface IntakePorts {
  readonly memory: Memory;
  readonly stillness: Stillness;
  readonly early: EarlyWatch;
  readonly watch: PadWatch;
  readonly calibrations: PadCalibrations;
  readonly recorder: Recorder;
  readonly now: () => number;
  readonly note: (fault: Fault) => void;
  /** Something changed that the screens show: at once, or only numbers that always change. */
  readonly changed: (what: 'state' | 'statistics') => void;
}

/** Makes an intake that has heard nothing yet. */
export const createIntake = (ports: IntakePorts): Intake => {
  const { memory, stillness, early, watch, calibrations, recorder, now, note, changed } = ports;
  const feeds = new Map<string, PadFeed>();
  let statuses: readonly PadStatus[] = [];
  let radio: Intake['radio'] = { state: 'starting', fault: null };
  let press: { readonly corner: Corner; readonly watch: PressWatch } | null = null;

  const given = (serial: string) => ({
    zero: memory.zeroOf(serial),
    calibration: calibrations.inUse(serial)?.calibration ?? null,
  });
  const feedOf = (serial: string): PadFeed => {
    const known = feeds.get(serial);
    if (known) return known;
    const made = createPadFeed(serial, given(serial));
    feeds.set(serial, made);
    return made;
  };

  const askForPress = (corner: Corner | null): void => {
    press = corner ? { corner, watch: createPressWatch() } : null;
    changed('state');
  };

  const startAnew = (): void => {
    for (const feed of feeds.values()) feedGiven(feed, given(feed.serial));
    stillness.reset();
    early.reset();
    watch.startAnew();
    changed('state');
  };

  /** The pad being pressed becomes the corner that was asked for; then the next empty one is asked. */
  const lookForPress = (feed: PadFeed): void => {
    if (!press || feed.lastAt === null) return;
    const { corner, watch } = press;
    const its = memory.cornerOf(feed.serial);
    if (its !== null && its !== corner) return;
    const force = feedForce(feed, feed.lastSmooth);
    if (force === null || !watch.take(feed.serial, second(feed.lastAt), force)) return;
    const outcome = memory.assign(feed.serial, corner);
    if (!outcome.ok) note(outcome.fault);
    startAnew();
    askForPress(cornersWithoutPad(memory.assigned)[0] ?? null);
  };

  const takeStatuses = (next: readonly PadStatus[]): void => {
    const news =
      next.length !== statuses.length ||
      next.some(
        (pad, index) => pad.phase !== statuses[index]?.phase || pad.key !== statuses[index]?.key,
      );
    statuses = next;
    for (const status of next)
      if (status.serial !== null) feedStatus(feedOf(status.serial), status);
    changed(news ? 'state' : 'statistics');
  };

  const take = (event: PadsEvent): void => {
    switch (event.kind) {
      case 'radio':
        radio = { state: event.state, fault: event.fault };
        changed('state');
        return;
      case 'pads':
        takeStatuses(event.pads);
        return;
      case 'samples': {
        const feed = feedOf(event.serial);
        feedSamples(feed, event.samples, now());
        recorder.take(event.serial, event.samples);
        watch.take(feed, event.samples);
        const corner = memory.cornerOf(event.serial);
        if (corner) {
          stillness.take(corner, feed, event.samples);
          early.take(corner, feed, event.samples);
        }
        lookForPress(feed);
        return;
      }
      case 'gap': {
        const { serial, from, to, missing, reason } = event;
        const gap = { from, to, missing, reason };
        feedGap(feedOf(serial), gap);
        recorder.gap(serial, gap);
        if (reason !== 'lost') watch.gap(serial);
        const corner = memory.cornerOf(serial);
        // A few samples lost on the way are judged by the time they leave open, not here.
        if (corner && reason !== 'lost') stillness.gap(corner);
        if (corner) early.gap(corner);
        return;
      }
      case 'fault':
        note(event.fault);
    }
  };

  return {
    feeds,
    get statuses() {
      return statuses;
    },
    get radio() {
      return radio;
    },
    get askingForPress() {
      return press?.corner ?? null;
    },
    take,
    slept: (seconds) => {
      for (const feed of feeds.values()) feedSlept(feed, seconds, now());
      stillness.reset();
      early.reset();
      watch.startAnew();
      changed('state');
    },
    under: () => {
      const { assigned } = memory;
      return perCorner((corner) => {
        const serial = assigned[corner];
        return serial === null ? null : (feeds.get(serial) ?? null);
      });
    },
    askForPress,
    startAnew,
    clear: () => {
      feeds.clear();
      statuses = [];
      radio = { state: 'starting', fault: null };
      press = null;
      stillness.reset();
      early.reset();
      watch.watch(null);
      changed('state');
    },
  };
};
