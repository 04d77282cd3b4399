import {
  createDrivenScheduler,
  type DrivenScheduler,
  type Scheduler,
} from '../../../core/scheduler.ts';
import { second } from '../../../core/units.ts';
import type { SoftDevice } from '../../../drivers/pads/ports.ts';
import { CORNER_PAD_UUIDS, decodeLoads } from '../../../drivers/pads/protocol/cornerPad.ts';
import type { Packet } from '../../../drivers/pads/protocol/model.ts';
import { createRig, type Rig, type RigOptions } from '../../../drivers/pads/rig/rig.ts';

/**
 * What came from one device: decoded, with the scheduler's time of arrival, and the bytes as hex.
 */
export interface Heard {
  readonly packets: (Packet & { readonly at: number })[];
  readonly hex: string[];
  readonly undecoded: string[];
  stop(): void;
}

/** Subscribes to a device's loads. */
export const listen = (device: SoftDevice, scheduler: Scheduler): Heard => {
  const heard = { packets: [] as Heard['packets'], hex: [] as string[], undecoded: [] as string[] };
  const stop = device.subscribe(CORNER_PAD_UUIDS.service, CORNER_PAD_UUIDS.loads, (bytes) => {
    const hex = Buffer.from(bytes).toString('hex');
    heard.hex.push(hex);
    const decoded = decodeLoads(bytes);
    if (decoded.ok) heard.packets.push({ ...decoded.packet, at: scheduler.now() });
    else heard.undecoded.push(hex);
  });
  return { ...heard, stop };
};

/** A rig on a scheduler that only moves when told, all its pads listened to. */
export const rigAt = (
  options: Omit<RigOptions, 'scheduler'>,
): {
  readonly rig: Rig;
  readonly scheduler: DrivenScheduler;
  readonly heard: readonly Heard[];
  run(seconds: number): void;
} => {
  const scheduler = createDrivenScheduler(second(1000));
  const rig = createRig({ scheduler, ...options });
  return {
    rig,
    scheduler,
    heard: rig.devices.map((device) => listen(device, scheduler)),
    run: (seconds) => scheduler.advance(second(seconds)),
  };
};

/** Item of a list that is known to be there. */
export const item = <T>(list: readonly T[], index: number): T => {
  const found = list.at(index);
  if (found === undefined) throw new RangeError(`nothing at ${index}`);
  return found;
};
