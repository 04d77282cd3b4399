import type { Cancel, Scheduler } from '../../core/scheduler.ts';
import { second, type Second } from '../../core/units.ts';
import { WAITS } from './deadlines.ts';
import { findIn, introduce, type Introduced, type Introduction } from './introduction.ts';
import { createOperations, type Done } from './operations.ts';
import type { Connection } from './ports.ts';
import type { PadCommand, PadModel, StartWrite } from './protocol/model.ts';
import { decodeBattery, decodeTemperature, STANDARD } from './protocol/standard.ts';

/** What the pad says beside its loads; null where unknown. */
export interface LinkValues {
  /** dBm */
  signal: number | null;
  /** Percent. */
  battery: number | null;
  /** °C */
  temperature: number | null;
}

/** One open link to a pad: its stream, its slow values, its commands. Gone when the link is. */
export interface PadLink {
  readonly values: Readonly<LinkValues>;
  introduce(models: readonly PadModel[]): Promise<Introduction>;
  /** Start-up writes around subscribing once to the stream, which is watched for silence; then the slow values. */
  subscribe(pad: Introduced, heard: StreamHeard): Promise<Done<void>>;
  command(pad: Introduced, command: PadCommand): Promise<Done<void>>;
  /** Stops every timer and settles what waits: nothing is heard of the link any more. */
  end(): void;
  /** Ends it and closes the connection; settles at the latest by its deadline. */
  close(): Promise<void>;
}

export interface StreamHeard {
  readonly received: (bytes: Uint8Array, at: Second) => void;
  readonly silent: () => void;
}

/** Opens a link's keeping. */
export const openPadLink = (options: {
  readonly key: string;
  readonly scheduler: Scheduler;
  readonly connection: Connection;
}): PadLink => {
  const { key, scheduler, connection } = options;
  const operations = createOperations(key, scheduler);
  const values: LinkValues = { signal: null, battery: null, temperature: null };
  const timers = new Set<Cancel>();
  let ended = false;

  const every = (what: string, period: number, run: () => void): void => {
    if (!ended) timers.add(scheduler.every(`${key}: ${what}`, second(period), run));
  };

  /** Asks for the signal's strength; one that is late ends the asking, never the stream. */
  const askSignal = async (): Promise<void> => {
    const done = await operations.run('signal', WAITS.operation, () => connection.signal());
    if (ended || !done.ok) return;
    values.signal = done.value;
  };

  const slowValues = [
    { name: 'battery', at: STANDARD.battery, decode: decodeBattery },
    { name: 'temperature', at: STANDARD.temperature, decode: decodeTemperature },
  ] as const;

  const followSlowValue = async (
    pad: Introduced,
    { name, at, decode }: (typeof slowValues)[number],
  ): Promise<void> => {
    const found = findIn(pad.found, at);
    const heard = (bytes: Uint8Array): void => {
      if (!ended) values[name] = decode(bytes);
    };
    if (found?.canNotify) {
      const done = await operations.run(`subscribe to ${name}`, WAITS.operation, () =>
        connection.subscribe(at.service, at.uuid, heard),
      );
      if (done.ok) return;
    }
    if (found?.canRead)
      every(name, WAITS.poll, () => {
        void operations
          .run(`read ${name}`, WAITS.operation, () => connection.read(at.service, at.uuid))
          .then((done) => done.ok && heard(done.value));
      });
  };

  /** Writes what the model asks for; the first write that fails ends it. */
  const writeStart = async (pad: Introduced, when: StartWrite['when']): Promise<Done<void>> => {
    for (const { at, bytes } of (pad.model.start ?? []).filter((one) => one.when === when)) {
      const done = await operations.run(`start-up write to ${at.uuid}`, WAITS.operation, () =>
        connection.write(at.service, at.uuid, bytes),
      );
      if (!done.ok) return done;
    }
    return { ok: true, value: undefined };
  };

  /** A step that must succeed and was answered with an error is as good as one not answered. */
  const mustSucceed = (done: Done<void>): Done<void> =>
    !done.ok && done.why === 'pad-command-refused' ? { ...done, why: 'pad-step-late' } : done;

  const end = (): void => {
    ended = true;
    operations.lose();
    for (const cancel of timers) cancel();
    timers.clear();
  };

  return {
    values,
    introduce: (models) => introduce(connection, operations, models),
    subscribe: async (pad, { received, silent }) => {
      const { stream, silentAfter } = pad.model;
      values.battery = pad.battery;
      values.temperature = pad.temperature;
      let lastAt = scheduler.now();
      const before = await writeStart(pad, 'before stream');
      if (!before.ok) return mustSucceed(before);
      const done = await operations.run('subscribe', WAITS.operation, () =>
        connection.subscribe(stream.service, stream.uuid, (bytes, at) => {
          if (ended) return;
          lastAt = at;
          received(bytes, at);
        }),
      );
      if (!done.ok) return mustSucceed(done);
      const after = await writeStart(pad, 'after stream');
      if (!after.ok) return mustSucceed(after);
      lastAt = scheduler.now();
      every('silence', silentAfter / 8, () => {
        if (scheduler.now() - lastAt > silentAfter) silent();
      });
      every('signal', WAITS.signalPoll, () => void askSignal());
      void askSignal();
      void (async () => {
        for (const one of slowValues) await followSlowValue(pad, one);
      })();
      return done;
    },
    command: async (pad, command) => {
      const { control } = pad.model;
      const refused = (detail: string): Done<void> => ({
        ok: false,
        why: 'pad-command-refused',
        detail,
      });
      if (!control) return refused(`${pad.model.title} takes no commands`);
      let bytes: Uint8Array;
      try {
        bytes = control.encode(command);
      } catch (error) {
        return refused(error instanceof Error ? error.message : String(error));
      }
      return operations.run(command.do, WAITS.operation, () =>
        connection.write(control.at.service, control.at.uuid, bytes),
      );
    },
    end,
    close: async () => {
      end();
      const { promise, resolve } = Promise.withResolvers<void>();
      const cancel = scheduler.after(`${key}: close`, second(WAITS.closing), resolve);
      void Promise.resolve(connection.close()).then(resolve, resolve);
      await promise;
      cancel();
    },
  };
};
