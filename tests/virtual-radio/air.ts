import type { Scheduler } from '../../core/scheduler.ts';
import type { SoftDevice, Transport } from '../../drivers/pads/ports.ts';
import { createRandom } from '../../drivers/pads/rig/random.ts';
import { createNobleTransport } from '../../drivers/pads/transport/noble.ts';
import { createRealScheduler } from '../../electron/clock.ts';
import { putOnAir } from './blenoPad.ts';
import { STATUS } from './hciPackets.ts';
import { createController, type HciPort, type VirtualController } from './virtualController.ts';
import { createVirtualRadio } from './virtualRadio.ts';
import { installSockets } from './virtualSocket.ts';

/**
 * Real Bluetooth libraries on both sides of a virtual radio: noble as the computer, one bleno for
 * each pad. Neither library's polling can be stopped, so whoever opens the air ends its process.
 */

export interface AirOptions {
  /** Share of notifications that a pad loses before they are sent, 0 to 1; none unless said. */
  readonly lossShare?: number;
  /** What the transport waits with; one on the machine's clock unless said. */
  readonly scheduler?: Scheduler;
  /** Seed of losses and of the advertisements' jitter. */
  readonly seed?: number;
  /** The computer's controller refuses to connect while it scans, as some do. */
  readonly scansOrConnects?: boolean;
  /** The computer's adapter before anything was done with it; there and on unless said. */
  readonly adapter?: 'up' | 'down' | 'gone';
  /** What becomes of a packet to the computer: packets that come in one turn, none where it is lost. */
  readonly toComputer?: (packet: Buffer) => readonly Buffer[];
  /** What the computer's every write fails with. */
  readonly writeError?: Error;
}

export interface Air {
  /** The real noble, on the computer's virtual adapter. */
  readonly transport: Transport;
  /** Radio loss: the pad hears and says nothing for so long. `key` is the device's. */
  cut(key: string, seconds: number): void;
  /** The computer's adapter: switched off, pulled out, or there and on. */
  adapter(state: 'up' | 'down' | 'gone'): void;
  /** Links that ended: HCI reason and for how long nothing had been heard, ms. */
  readonly ends: readonly { readonly reason: number; readonly quietMs: number }[];
  /** Takes the pads off the air; the transport is stopped by whoever started it. */
  close(): void;
}

const ATT_CHANNEL = 0x0004;
const ATT_NOTIFICATION = 0x1b;
const isNotification = (packet: Buffer): boolean =>
  packet.length > 9 && packet.readUInt16LE(7) === ATT_CHANNEL && packet[9] === ATT_NOTIFICATION;

/** Locally administered addresses, least significant byte first. */
const addressOf = (number: number): readonly number[] => [number, 0, 0, 0xd0, 0x11, 0xc2];

/** Puts the devices on the air; one air a process. Settles when all advertise. */
export const openAir = async (
  devices: readonly SoftDevice[],
  options: AirOptions = {},
): Promise<Air> => {
  const random = createRandom(options.seed ?? 1).uniform;
  const lossShare = options.lossShare ?? 0;
  const radio = createVirtualRadio(random);
  const silentUntil = new Map<string, number>();
  const { toComputer = (packet: Buffer) => [packet], writeError } = options;
  let gone = false;

  const computer = createController({
    address: addressOf(0),
    isAudible: () => true,
    signal: () => 0,
    firstHandle: 0x40,
    scansOrConnects: options.scansOrConnects ?? false,
    isDropped: () => false,
  });
  const pads = devices.map((device, index) =>
    createController({
      address: addressOf(index + 1),
      isAudible: () =>
        device.audible() && performance.now() >= (silentUntil.get(device.key) ?? -Infinity),
      signal: () => device.signal(),
      firstHandle: 0x200,
      scansOrConnects: false,
      isDropped: (packet) => lossShare > 0 && isNotification(packet) && random() < lossShare,
    }),
  );
  const controllers: readonly VirtualController[] = [computer, ...pads];
  for (const controller of controllers) radio.add(controller);

  const computerPort: HciPort = {
    up: () => computer.up(),
    write: (packet) => {
      if (writeError) throw writeError;
      computer.write(packet);
    },
    attach: (receive) => {
      const tampered = (packet: Buffer): void => {
        for (const instead of toComputer(packet)) receive?.(instead);
      };
      computer.attach(receive && tampered);
    },
  };
  const setAdapter = (state: 'up' | 'down' | 'gone'): void => {
    gone = state === 'gone';
    if (gone) computer.attach(null);
    for (const end of state === 'up' ? [] : [...computer.links.values()]) {
      computer.links.delete(end.handle);
      const { supervisionTimeout } = STATUS;
      end.link.end(end.link.other(end), supervisionTimeout, supervisionTimeout);
    }
    computer.power(state === 'up');
  };
  setAdapter(options.adapter ?? 'up');

  installSockets({
    open: (number) => {
      const port = number === 0 ? computerPort : controllers[number];
      if (!port || (number === 0 && gone)) throw new Error('No such device');
      return port;
    },
    list: () => (gone ? [] : [{ devId: 0, devUp: computer.up() }]),
  });
  for (const [index, device] of devices.entries()) await putOnAir(device, index + 1);

  return {
    transport: createNobleTransport({ scheduler: options.scheduler ?? createRealScheduler() }),
    cut: (key, seconds) => {
      silentUntil.set(key, performance.now() + seconds * 1000);
    },
    adapter: setAdapter,
    ends: radio.ends,
    close: () => {
      for (const controller of pads) radio.remove(controller);
      radio.stop();
    },
  };
};
