import type { Corner } from '../../core/corners.ts';
import type { AirChances } from '../../drivers/pads/rig/airFaults.ts';
import type { SoftDevice } from '../../drivers/pads/ports.ts';
import type { Fault } from './fault.ts';
import { captureSettled, standOnPads, type FaultBench } from './faultBench.ts';

/** Faults of one pad: the left front's. The others must not notice. */

const NO_FAULT: AirChances = { lost: 0, duplicated: 0, late: 0 };
/** Seconds that a fault of the air goes on; a third of it in the reduced run. */
const AIR_SECONDS = 24;

/** A capture before and one after; between them the fault, in which one is asked for too. */
const around =
  (
    during: (bench: FaultBench, share: number) => Promise<void>,
    atFault: readonly Corner[] = ['LF'],
  ): Fault['run'] =>
  async (dir, share) => {
    const bench = await standOnPads({ dir });
    await captureSettled(bench);
    bench.begin();
    await during(bench, share);
    await captureSettled(bench);
    return bench.finish({ atFault });
  };

const air = (name: string, done: string, chances: Partial<AirChances>): Fault => ({
  name,
  done,
  run: around(
    async (bench, share) => {
      bench.rig.happen({ do: 'air', pad: 'LF', chances: { ...NO_FAULT, ...chances } });
      await bench.run(AIR_SECONDS * Math.max(share, 1 / 3));
      await bench.capture();
      bench.rig.happen({ do: 'air', pad: 'LF', chances: NO_FAULT });
    },
    // Without a loss there is nothing to name.
    chances.lost === 0 ? [] : ['LF'],
  ),
});

/** What another firmware does otherwise. */
interface OtherFirmware {
  readonly characteristics?: SoftDevice['characteristics'];
  readonly read?: SoftDevice['read'];
  readonly sent?: (bytes: Uint8Array) => Uint8Array;
}

/** One pad's device, which runs the other firmware while it is told to. */
const flashable = (key: string, other: (device: SoftDevice) => OtherFirmware) => {
  let isOther = false;
  const wrap = (device: SoftDevice): SoftDevice => {
    const { characteristics, read, sent } = other(device);
    return {
      ...device,
      get characteristics() {
        return isOther && characteristics ? characteristics : device.characteristics;
      },
      read: (service, uuid) => (isOther && read ? read : device.read)(service, uuid),
      subscribe: (service, uuid, send) =>
        device.subscribe(service, uuid, (bytes) => send(isOther && sent ? sent(bytes) : bytes)),
    };
  };
  return {
    flash: (firmware: 'other' | 'own'): void => {
      isOther = firmware === 'other';
    },
    devices: (devices: readonly SoftDevice[]): readonly SoftDevice[] =>
      devices.map((device) => (device.key === key ? wrap(device) : device)),
  };
};

/** A pad is given another firmware, restarts with it, and after a while its own again. */
const flashed =
  (options: {
    readonly key: string;
    readonly pad: 'LF' | 'spare';
    readonly other: (device: SoftDevice) => OtherFirmware;
    readonly atFault: readonly Corner[];
  }): Fault['run'] =>
  async (dir) => {
    const { flash, devices } = flashable(options.key, options.other);
    const bench = await standOnPads({ dir, devices });
    await captureSettled(bench);
    bench.begin();
    flash('other');
    bench.rig.happen({ do: 'restart', pad: options.pad });
    await bench.run(12);
    await bench.capture();
    flash('own');
    bench.rig.happen({ do: 'restart', pad: options.pad });
    // Who was refused for good is looked at again when it is heard after it was gone.
    await bench.until('the pad is back', () => bench.pad('LF')?.phase === 'live');
    await captureSettled(bench);
    return bench.finish({ atFault: options.atFault });
  };

const LEFT_FRONT = 'rig:MP-1041';
const SPARE = 'rig:MP-1047';
const SERIAL_NUMBER = '2a25';

export const PAD_FAULTS: readonly Fault[] = [
  ...[0, 5, 10, 20, 30].map((percent) =>
    air(`loss ${percent} %`, `${percent} % of one pad’s notifications are lost`, {
      lost: percent / 100,
    }),
  ),
  air('bursts', 'one in 100 notifications and the eleven after it are lost (0.3 s)', {
    lost: 0.01,
    burst: 12,
  }),
  air('duplicates', '20 % of one pad’s notifications come twice', { duplicated: 0.2 }),
  air('late packets', '20 % of one pad’s notifications come after two or three younger ones', {
    late: 0.2,
  }),
  {
    name: 'pad reboots',
    done: 'a pad restarts, its number and clock from 0; Capture is pressed at once, after 1 s, and when all is still',
    run: around(async (bench) => {
      bench.rig.happen({ do: 'restart', pad: 'LF' });
      await bench.run(0.1);
      await bench.capture();
      await bench.run(1);
      await bench.capture();
      await bench.until('it is back', () => bench.screen.frame?.corners.LF.status === 'live');
      await bench.capture();
    }),
  },
  {
    name: 'two pads, one serial number',
    done: 'the spare restarts with the serial number of the left front’s pad',
    run: flashed({
      key: SPARE,
      pad: 'spare',
      other: (device) => ({
        read: (service, uuid) =>
          uuid === SERIAL_NUMBER ? new TextEncoder().encode('MP-1041') : device.read(service, uuid),
      }),
      atFault: [],
    }),
  },
  {
    name: 'wrong firmware, other bytes',
    done: 'a pad restarts with a firmware that sends one byte more than its model allows',
    run: flashed({
      key: LEFT_FRONT,
      pad: 'LF',
      other: () => ({ sent: (bytes) => Uint8Array.of(...bytes, 0) }),
      atFault: ['LF'],
    }),
  },
  {
    name: 'wrong firmware, other services',
    done: 'a pad restarts with a firmware that has no loads to subscribe to',
    run: flashed({
      key: LEFT_FRONT,
      pad: 'LF',
      other: (device) => ({
        characteristics: device.characteristics.filter(({ canNotify }) => !canNotify),
      }),
      atFault: ['LF'],
    }),
  },
  {
    name: 'flat battery',
    done: 'a pad’s battery falls to 12 %, then to nothing; it is changed',
    run: around(async (bench) => {
      bench.rig.happen({ do: 'charge', pad: 'LF', percent: 12 });
      await bench.run(3);
      await bench.capture();
      bench.rig.happen({ do: 'charge', pad: 'LF', percent: 0 });
      await bench.run(8);
      await bench.capture();
      bench.rig.happen({ do: 'charge', pad: 'LF', percent: 90 });
      bench.rig.happen({ do: 'restart', pad: 'LF' });
    }),
  },
];
