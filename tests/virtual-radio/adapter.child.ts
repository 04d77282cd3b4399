import { setTimeout as pause } from 'node:timers/promises';
import { createDrivenScheduler } from '../../core/scheduler.ts';
import { second } from '../../core/units.ts';
import type { Connection, Transport } from '../../drivers/pads/ports.ts';
import { CORNER_PAD_UUIDS } from '../../drivers/pads/protocol/cornerPad.ts';
import { createNobleTransport } from '../../drivers/pads/transport/noble.ts';
import { openAir, type Air, type AirOptions } from './air.ts';
import { createCounterPad } from './counterPad.ts';
import { COMMAND, disconnectionComplete } from './hciPackets.ts';
import { finishChild } from './runChild.ts';

/**
 * What happens to the radio itself, one case a process: the first argument names it. Prints the
 * states that the transport told and what became of the calls.
 */

export interface AdapterResult {
  /** "state/fault", in order. */
  readonly told: readonly string[];
  readonly happened: readonly string[];
}

const told: string[] = [];
const happened: string[] = [];
const keys = new Map<string, string>();
const { service, loads } = CORNER_PAD_UUIDS;
const DEADLINE_MS = 8000;

const until = async (what: string, isSo: () => boolean): Promise<void> => {
  const deadline = performance.now() + DEADLINE_MS;
  while (!isSo()) {
    if (performance.now() > deadline)
      throw new Error(`not within the deadline: ${what}; told ${told.join(' ')}`);
    await pause(5);
  }
};

const follow = (transport: Transport): (() => Promise<void>) =>
  transport.start({
    radio: (state, fault) => {
      told.push(`${state}/${fault?.code ?? ''}`);
      transport.scan(state === 'on');
    },
    sighted: ({ key, name }) => keys.set(name.replace('Counter ', ''), key),
  });

const untilTold = (word: string): Promise<void> => until(word, () => told.at(-1) === word);

const connect = async (air: Air, serial: string): Promise<Connection> => {
  await until(`${serial} sighted`, () => keys.has(serial));
  return air.transport.connect(keys.get(serial) ?? '', () => happened.push(`${serial} lost`));
};

const streams = async (connection: Connection, serial: string): Promise<void> => {
  let heard = 0;
  await connection.discover();
  await connection.subscribe(service, loads, () => (heard += 1));
  await until(`${serial} streams`, () => heard >= 10);
  happened.push(`${serial} streams`);
};

const outcome = (what: string, promise: Promise<unknown>): Promise<void> =>
  promise.then(
    () => void happened.push(`${what}: done`),
    (error: unknown) => void happened.push(`${what}: ${String(error)}`),
  );

const pads = (): ReturnType<typeof createCounterPad>[] => ['A', 'B'].map(createCounterPad);
const airWith = (options: AirOptions): Promise<Air> => openAir(pads(), options);

/** The answer to Read Local Version says 3.0: an adapter without low energy. */
const oldVersion = (packet: Buffer): Buffer[] => {
  if (packet[1] !== 0x0e || packet.readUInt16LE(4) !== COMMAND.readLocalVersion) return [packet];
  const changed = Buffer.from(packet);
  changed[7] = 0x05;
  return [changed];
};

/** The first link ends in the turn in which it opens; 0x3e: failed to be established. */
const endsAtOnce = (): ((packet: Buffer) => Buffer[]) => {
  let done = false;
  return (packet) => {
    const opened = packet.subarray(1, 5).equals(Buffer.from([0x3e, 0x13, 0x01, 0x00]));
    if (done || !opened) return [packet];
    done = true;
    return [packet, disconnectionComplete(packet.readUInt16LE(5), 0x3e)];
  };
};

/** Whether it is LE Connection Complete with status 0x02: a cancelled connect, confirmed. */
const confirmsCancel = (packet: Buffer): boolean =>
  packet.subarray(1, 5).equals(Buffer.from([0x3e, 0x13, 0x01, 0x02]));

const comesBack = async (state: 'down' | 'gone', saying: string): Promise<void> => {
  const air = await airWith({});
  const stop = follow(air.transport);
  await untilTold('on/');
  const first = await connect(air, 'A');
  await streams(first, 'A');
  const reading = outcome('read', first.read('180a', '2a25'));
  air.cut('B', 1);
  const connecting = outcome('connect', connect(air, 'B'));
  await pause(50);
  air.adapter(state);
  await untilTold(saying);
  await Promise.all([reading, connecting]);
  keys.clear();
  air.adapter('up');
  await untilTold('on/');
  await streams(await connect(air, 'A'), 'A');
  await streams(await connect(air, 'B'), 'B');
  await stop();
};

const cases: Readonly<Record<string, () => Promise<void>>> = {
  plugged: async () => {
    const air = await airWith({ adapter: 'gone' });
    const stop = follow(air.transport);
    await untilTold('absent/radio-absent');
    air.adapter('up');
    await untilTold('on/');
    await stop();
  },
  'switched on': async () => {
    const air = await airWith({ adapter: 'down' });
    const stop = follow(air.transport);
    await untilTold('off/radio-off');
    air.adapter('up');
    await untilTold('on/');
    await streams(await connect(air, 'A'), 'A');
    await stop();
  },
  'switched off': () => comesBack('down', 'off/radio-off'),
  'pulled out': () => comesBack('gone', 'absent/radio-reset'),
  'not permitted': async () => {
    const refused = Object.assign(new Error('Operation not permitted'), { errno: 1 });
    const stop = follow((await airWith({ writeError: refused })).transport);
    await untilTold('not permitted/radio-not-permitted');
    await stop();
  },
  unsupported: async () => {
    const stop = follow((await airWith({ toComputer: oldVersion })).transport);
    await untilTold('unsupported/radio-unsupported');
    await stop();
  },
  mute: async () => {
    await airWith({ toComputer: () => [] });
    const scheduler = createDrivenScheduler();
    const stop = follow(createNobleTransport({ scheduler }));
    await until('bound', () => scheduler.waiting().includes('radio answer'));
    scheduler.advance(second(9.9));
    happened.push(`after 9.9 s: ${told.at(-1)}`);
    scheduler.advance(second(0.2));
    await stop();
    happened.push(`timers left: ${scheduler.waiting().join()}`);
  },
  'given up': async () => {
    const air = await airWith({});
    const stop = follow(air.transport);
    await until('both sighted', () => keys.size === 2);
    air.cut('A', 1.5);
    const given = outcome('connect', connect(air, 'A'));
    await pause(300);
    air.transport.cancelConnect();
    await given;
    await streams(await connect(air, 'B'), 'B');
    await pause(1500);
    await streams(await connect(air, 'A'), 'A');
    await stop();
  },
  'never confirmed': async () => {
    const toComputer = (packet: Buffer): Buffer[] => (confirmsCancel(packet) ? [] : [packet]);
    const air = await airWith({ toComputer });
    const stop = follow(air.transport);
    await until('both sighted', () => keys.size === 2);
    air.cut('A', 60);
    const given = outcome('connect', connect(air, 'A'));
    await pause(300);
    air.transport.cancelConnect();
    await given;
    await streams(await connect(air, 'B'), 'B');
    await stop();
  },
  'scans or connects': async () => {
    const air = await airWith({ scansOrConnects: true });
    const stop = follow(air.transport);
    await untilTold('on/');
    await streams(await connect(air, 'A'), 'A');
    keys.delete('B');
    await streams(await connect(air, 'B'), 'B');
    await stop();
  },
  'ends at once': async () => {
    const air = await airWith({ toComputer: endsAtOnce() });
    const stop = follow(air.transport);
    await outcome(
      'discover',
      connect(air, 'A').then((connection) => connection.discover()),
    );
    // The pad's side learns of it by its own timeout, and advertises again.
    keys.clear();
    air.cut('A', 2.5);
    await pause(2600);
    await streams(await connect(air, 'A'), 'A');
    await stop();
  },
  'operations and loss': async () => {
    const air = await airWith({});
    const before = process.listenerCount('SIGINT');
    const stop = follow(air.transport);
    await untilTold('on/');
    happened.push(`SIGINT handlers added: ${process.listenerCount('SIGINT') - before}`);
    const connection = await connect(air, 'A');
    await streams(connection, 'A');
    await outcome(
      'subscribe twice',
      connection.subscribe(service, loads, () => undefined),
    );
    air.cut('A', 2.5);
    const asked = performance.now();
    await Promise.all([
      outcome('read', connection.read('180a', '2a25')),
      outcome('close', connection.close()),
      outcome('signal', connection.signal()),
    ]);
    happened.push(performance.now() - asked < 2500 ? 'settled with the link' : 'settled too late');
    await outcome('read after', connection.read('180a', '2a25'));
    await outcome('close after', connection.close());
    await stop();
  },
};

const run = cases[process.argv[2] ?? ''];
if (!run) throw new Error(`no such case: ${process.argv[2]}`);
await run();
finishChild({ told, happened } satisfies AdapterResult);
