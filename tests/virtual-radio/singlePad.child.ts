import { setTimeout as pause } from 'node:timers/promises';
import type { CharacteristicFound, Connection, Transport } from '../../drivers/pads/ports.ts';
import { CORNER_PAD_UUIDS } from '../../drivers/pads/protocol/cornerPad.ts';
import { createNobleTransport } from '../../drivers/pads/transport/noble.ts';
import { createRealScheduler } from '../../electron/clock.ts';
import { openAir } from './air.ts';
import { putOnAir } from './blenoPad.ts';
import { BTVIRT_SOCKET } from './btvirt.ts';
import { createCounterPad, type CounterPad } from './counterPad.ts';
import { openH4Port } from './h4Port.ts';
import { finishChild } from './runChild.ts';
import { compareStream, quantile, witnessStreams } from './streamWitness.ts';
import { installSockets } from './virtualSocket.ts';

/**
 * One counter pad straight over the Bluetooth transport, with our virtual controllers or with the
 * emulator's (`virtual` or `btvirt` as the first argument). Prints what every call of the port gave.
 */

const STRETCH_MS = 10_000;
const ON_ITS_WAY_MS = 300;
const SIGHTED_DEADLINE_MS = 15_000;

export interface SinglePadResult {
  readonly name: string;
  readonly services: readonly string[];
  readonly found: readonly CharacteristicFound[];
  readonly serial: string;
  readonly firmware: string;
  readonly commands: readonly string[];
  readonly refusal: string;
  readonly signal: number | null;
  readonly stretch: ReturnType<typeof compareStream>;
  readonly latency: { readonly p50: number; readonly p99: number };
  readonly lost: number;
  readonly subscribersAfter: number;
  readonly again: ReturnType<typeof compareStream>;
  readonly stopSettled: boolean;
}

const onEmulator = async (pad: CounterPad): Promise<Transport> => {
  const ports = [await openH4Port(BTVIRT_SOCKET), await openH4Port(BTVIRT_SOCKET)];
  installSockets({
    open: (number) => {
      const port = ports[number];
      if (!port) throw new Error('No such device');
      return port;
    },
    list: () => [{ devId: 0, devUp: true }],
  });
  await putOnAir(pad, 1);
  return createNobleTransport({ scheduler: createRealScheduler() });
};

const pad = createCounterPad('P-1');
const overEmulator = process.argv[2] === 'btvirt';
const witness = witnessStreams(
  overEmulator ? await onEmulator(pad) : (await openAir([pad])).transport,
);
const { transport } = witness;
const sighted = Promise.withResolvers<{ key: string; name: string; services: readonly string[] }>();
const timer = setTimeout(() => sighted.reject(new Error('not sighted')), SIGHTED_DEADLINE_MS);
const stop = transport.start({
  radio: (state) => transport.scan(state === 'on'),
  sighted: (sighting) => {
    if (sighting.services.includes(CORNER_PAD_UUIDS.service)) sighted.resolve(sighting);
  },
});
const { key, name, services } = await sighted.promise;
clearTimeout(timer);

const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);
const { service, loads, control } = CORNER_PAD_UUIDS;
let lost = 0;
const opened = (): Promise<Connection> => transport.connect(key, () => (lost += 1));

const first = await opened();
const found = await first.discover();
const serial = text(await first.read('180a', '2a25'));
const firmware = text(await first.read('180a', '2a26'));
await first.write(service, control, Uint8Array.of(3));
const refusal = await first.write(service, control, Uint8Array.of(9)).then(
  () => 'taken',
  (error: unknown) => String(error),
);
const signal = await first.signal();
await first.subscribe(service, loads, () => undefined);
const from = performance.now();
await pause(STRETCH_MS);
const to = performance.now() - ON_ITS_WAY_MS;
const numbers = (): readonly number[] => witness.arrivals(pad.key).map(({ number }) => number);
const stretch = compareStream(pad.sentAt, numbers(), from, to);
const latencies = witness
  .arrivals(pad.key)
  .map(({ number, at }) => at - (pad.sentAt.get(number) ?? NaN))
  .sort((a, b) => a - b);
await first.close();
await pause(200);
const subscribersAfter = pad.subscribers();

const second = await opened();
await second.discover();
await second.subscribe(service, loads, () => undefined);
const againFrom = performance.now();
await pause(2000);
const again = compareStream(pad.sentAt, numbers(), againFrom, performance.now() - ON_ITS_WAY_MS);
const stopSettled = await Promise.race([stop().then(() => true), pause(5000, false)]);

finishChild({
  name,
  services,
  found,
  serial,
  firmware,
  commands: pad.commands,
  refusal,
  signal,
  stretch,
  latency: { p50: quantile(latencies, 0.5), p99: quantile(latencies, 0.99) },
  lost,
  subscribersAfter,
  again,
  stopSettled,
} satisfies SinglePadResult);
