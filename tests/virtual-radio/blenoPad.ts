import { createRequire } from 'node:module';
import { sep } from 'node:path';
import type Bleno from '@abandonware/bleno';
import type { SoftDevice } from '../../drivers/pads/ports.ts';

/**
 * Puts a device made in software on the air through the real @abandonware/bleno. Each gets a fresh
 * copy of the library, which keeps one adapter and one client per copy.
 */

const require = createRequire(import.meta.url);

type BlenoLibrary = typeof Bleno;
type Properties = ('read' | 'write' | 'notify' | 'indicate')[];

/** Weight Measurement is indicated, not notified: Weight Scale Service 1.0, 3.2. */
const INDICATED = new Set(['2a9d']);
/** The application error of the corner-pad profile's control point. */
const REFUSED = 0x80;
const POWER_DEADLINE_MS = 10_000;

const freshBleno = (): BlenoLibrary => {
  const inside = `${sep}@abandonware${sep}bleno${sep}`;
  for (const path of Object.keys(require.cache))
    if (path.includes(inside)) delete require.cache[path];
  return require('@abandonware/bleno') as BlenoLibrary;
};

const poweredOn = (bleno: BlenoLibrary): Promise<void> =>
  new Promise((resolve, reject) => {
    const timer = setTimeout(() => reject(new Error('bleno did not start')), POWER_DEADLINE_MS);
    bleno.on('stateChange', (state) => {
      if (state !== 'poweredOn') return;
      clearTimeout(timer);
      resolve();
    });
  });

const advertise = (bleno: BlenoLibrary, device: SoftDevice): Promise<void> =>
  new Promise((resolve, reject) => {
    bleno.on('advertisingStartError', reject);
    bleno.startAdvertising(device.name, device.services, (error) =>
      error ? reject(error) : resolve(),
    );
  });

const servicesOf = (bleno: BlenoLibrary, device: SoftDevice) => {
  const { Characteristic, PrimaryService } = bleno;
  const characteristic = (found: SoftDevice['characteristics'][number]) => {
    const { service, uuid } = found;
    let stop = (): void => undefined;
    const properties: Properties = [];
    if (found.canRead) properties.push('read');
    if (found.canWrite) properties.push('write');
    if (found.canNotify) properties.push(INDICATED.has(uuid) ? 'indicate' : 'notify');
    return new Characteristic({
      uuid,
      properties,
      onReadRequest: (offset, answer) => {
        const value = device.read(service, uuid);
        if (!value) answer(Characteristic.RESULT_UNLIKELY_ERROR);
        else answer(Characteristic.RESULT_SUCCESS, Buffer.from(value).subarray(offset));
      },
      onWriteRequest: (data, _offset, _withoutResponse, answer) => {
        const taken = device.write(service, uuid, Uint8Array.from(data));
        answer(taken ? Characteristic.RESULT_SUCCESS : REFUSED);
      },
      onSubscribe: (_most, update) => {
        stop();
        stop = device.subscribe(service, uuid, (bytes) => update(Buffer.from(bytes)));
      },
      onUnsubscribe: () => {
        stop();
        stop = () => undefined;
      },
    });
  };
  return [...new Set(device.characteristics.map((it) => it.service))].map(
    (uuid) =>
      new PrimaryService({
        uuid,
        characteristics: device.characteristics
          .filter((it) => it.service === uuid)
          .map((it) => characteristic(it)),
      }),
  );
};

/**
 * Puts the device on the air through the adapter of that number. Rejects when the library does not
 * start or the advertisement is longer than 31 bytes.
 */
export const putOnAir = async (device: SoftDevice, adapter: number): Promise<void> => {
  process.env['BLENO_HCI_DEVICE_ID'] = String(adapter);
  const bleno = freshBleno();
  await poweredOn(bleno);
  bleno.setServices(servicesOf(bleno, device));
  await advertise(bleno, device);
};
