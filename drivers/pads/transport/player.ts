import { fault } from '../../../core/faults.ts';
import type { Cancel, Scheduler } from '../../../core/scheduler.ts';
import { second } from '../../../core/units.ts';
import type { CharacteristicFound, Connection, Transport, TransportListener } from '../ports.ts';
import type { RecordedDevice, RecordedNotification, Recording } from './recording.ts';

/**
 * Plays a recording as a radio would have heard it: same devices, same bytes, same spacing of
 * arrivals. Time stands at 0 until every device that notifies was subscribed to, or two seconds
 * after the first was. Played once, the devices then fall out of hearing and stay away; looped, they
 * do so for a second and begin again, so that nobody sees numbers that go on over the seam.
 *
 * What is written to a device is accepted and has no effect: a recording cannot change.
 */

const ADVERTISING = second(0.2);
const STEP = second(0.015);
const START_AFTER = second(2);
const PAUSE = second(1);

interface Link {
  readonly heard: Map<string, (notification: RecordedNotification) => void>;
  readonly end: () => void;
}

const nameOf = ({ service, uuid }: { readonly service: string; readonly uuid: string }): string =>
  `${service} ${uuid}`;

const foundOf = (device: RecordedDevice): readonly CharacteristicFound[] =>
  device.characteristics.map(({ value: _value, ...found }) => found);

/** Makes the transport of a recording. */
export const createPlayer = (options: {
  readonly recording: Recording;
  readonly scheduler: Scheduler;
  readonly isLooped: boolean;
}): Transport => {
  const { scheduler, isLooped } = options;
  const { devices, notifications } = options.recording;
  const streaming = new Set(notifications.map(({ device }) => device));
  const links = new Map<number, Link>();
  const timers = new Set<Cancel>();
  let listener: TransportListener | null = null;
  let stopScan: Cancel | null = null;
  let giveUp: ((why: Error) => void) | null = null;
  let isAway = false;
  /** Host time at which the tape began; null while it stands. */
  let began: number | null = null;
  let stopPlaying: Cancel | null = null;
  let next = 0;

  const after = (what: string, seconds: number, run: () => void): Cancel => {
    const cancel = scheduler.after(`player: ${what}`, second(seconds), () => {
      timers.delete(cancel);
      run();
    });
    timers.add(cancel);
    return cancel;
  };

  const rewind = (): void => {
    stopPlaying?.();
    stopPlaying = null;
    began = null;
    next = 0;
  };

  const finish = (): void => {
    rewind();
    isAway = true;
    for (const link of [...links.values()]) link.end();
    if (isLooped) after('pause', PAUSE, () => (isAway = false));
  };

  const play = (): void => {
    if (began === null) return;
    const elapsed = (scheduler.now() - began) * 1000;
    for (let one = notifications[next]; one && one.ms <= elapsed; one = notifications[next]) {
      next++;
      links.get(one.device)?.heard.get(nameOf(one))?.(one);
      if (began === null) return;
    }
    if (next === notifications.length) finish();
  };

  const begin = (): void => {
    if (began !== null || stopPlaying === null) return;
    stopPlaying();
    began = scheduler.now();
    stopPlaying = scheduler.every('player: tape', STEP, play);
  };

  /** A stream was subscribed to: the tape begins when all are, or a little later. */
  const subscribed = (): void => {
    if (began !== null) return;
    stopPlaying ??= after('start', START_AFTER, begin);
    const isSubscribed = (device: number): boolean =>
      notifications.some(
        (one) => one.device === device && links.get(device)?.heard.has(nameOf(one)),
      );
    if ([...streaming].every(isSubscribed)) begin();
  };

  const open = (number: number, device: RecordedDevice, lost: () => void): Connection => {
    let ended = false;
    const heard: Link['heard'] = new Map();
    const end = (): void => {
      if (ended) return;
      ended = true;
      links.delete(number);
      heard.clear();
      lost();
    };
    links.set(number, { heard, end });
    const find = (service: string, uuid: string) =>
      device.characteristics.find((one) => one.service === service && one.uuid === uuid);
    const answer = async <T>(act: () => T): Promise<T> => {
      await Promise.resolve();
      if (ended) throw new Error('the link ended');
      return act();
    };
    return {
      discover: () => answer(() => foundOf(device)),
      read: (service, uuid) =>
        answer(() => {
          const value = find(service, uuid)?.value;
          if (!value) throw new Error(`${uuid} was not recorded`);
          return value;
        }),
      write: (service, uuid) =>
        answer(() => {
          if (!find(service, uuid)?.canWrite) throw new Error(`${uuid} cannot be written`);
        }),
      subscribe: (service, uuid, received) =>
        answer(() => {
          if (!find(service, uuid)?.canNotify) throw new Error(`${uuid} does not notify`);
          heard.set(nameOf({ service, uuid }), (one) =>
            received(one.bytes, second((began ?? scheduler.now()) + one.ms / 1000)),
          );
          subscribed();
        }),
      signal: () => answer(() => device.signal),
      close: () => {
        end();
        return Promise.resolve();
      },
    };
  };

  const scan = (on: boolean): void => {
    stopScan?.();
    stopScan = null;
    if (!on || !listener) return;
    stopScan = scheduler.every('player: advertising', ADVERTISING, () => {
      for (const [number, device] of devices.entries())
        if (!isAway && !links.has(number))
          listener?.sighted({
            key: device.key,
            name: device.name,
            services: device.services,
            signal: device.signal,
          });
    });
  };

  const connect = (key: string, lost: () => void): Promise<Connection> => {
    const number = devices.findIndex((one) => one.key === key);
    const device = devices[number];
    if (!device || !listener) return Promise.reject(new Error(`no device ${key}`));
    if (giveUp) return Promise.reject(new Error('another connect is outstanding'));
    const { promise, resolve, reject } = Promise.withResolvers<Connection>();
    const cancel = scheduler.every('player: connecting', STEP, () => {
      if (isAway || links.has(number)) return;
      cancel();
      giveUp = null;
      resolve(open(number, device, lost));
    });
    giveUp = (why) => {
      cancel();
      giveUp = null;
      reject(why);
    };
    return promise;
  };

  const cancelConnect = (): void => giveUp?.(new Error('the connect was given up'));

  return {
    start: (to) => {
      listener = to;
      isAway = false;
      after('radio', 0, () => to.radio('on', null));
      return async () => {
        scan(false);
        listener = null;
        cancelConnect();
        for (const link of [...links.values()]) link.end();
        rewind();
        for (const cancel of timers) cancel();
        timers.clear();
        await Promise.resolve();
      };
    },
    scan,
    connect,
    cancelConnect,
  };
};

/** A transport that only says why there is nothing to play. */
export const createDamagedRecording = (scheduler: Scheduler, detail: string): Transport => ({
  start: (listener) => {
    const cancel = scheduler.after('player: damaged', second(0), () =>
      listener.radio('absent', fault('recording-damaged', scheduler.now(), { detail })),
    );
    return async () => {
      cancel();
      await Promise.resolve();
    };
  },
  scan: () => undefined,
  connect: () => Promise.reject(new Error('there is no recording')),
  cancelConnect: () => undefined,
});
