import type { FaultCode } from '../../core/faults.ts';
import type { PadRating } from '../../core/reading.ts';
import { WAITS } from './deadlines.ts';
import type { Done, Operations } from './operations.ts';
import type { CharacteristicFound, Connection } from './ports.ts';
import type { CharacteristicRef, PadModel } from './protocol/model.ts';
import { modelOf } from './protocol/registry.ts';
import { decodeBattery, decodeTemperature, decodeText, STANDARD } from './protocol/standard.ts';

/** What a pad said of itself before its stream begins. */
export interface Introduced {
  readonly model: PadModel;
  readonly serial: string;
  readonly firmware: string | null;
  readonly rating: PadRating | null;
  readonly battery: number | null;
  readonly temperature: number | null;
  readonly found: readonly CharacteristicFound[];
}

export type Introduction =
  | { readonly ok: true; readonly pad: Introduced }
  /** `refused`: it was understood and cannot be used; otherwise the step failed and is tried again. */
  | {
      readonly ok: false;
      readonly refused: boolean;
      readonly why: FaultCode;
      readonly detail: string;
    };

/** The characteristic in what was found; undefined where the device lacks it. */
export const findIn = (
  found: readonly CharacteristicFound[],
  ref: CharacteristicRef,
): CharacteristicFound | undefined =>
  found.find((one) => one.service === ref.service && one.uuid === ref.uuid);

const failed = (done: Extract<Done<unknown>, { ok: false }>): Introduction => ({
  ok: false,
  refused: false,
  // A step that must succeed and was answered with an error is as good as one not answered.
  why: done.why === 'pad-command-refused' ? 'pad-step-late' : done.why,
  detail: done.detail,
});

/**
 * Meets a pad on a new link: services, model, serial number, then firmware, rating, battery and
 * temperature as far as it has them. Settles always, by its deadlines or the end of the link.
 */
export const introduce = async (
  connection: Connection,
  operations: Operations,
  models: readonly PadModel[],
): Promise<Introduction> => {
  const discovered = await operations.run('discover', WAITS.discovery, () => connection.discover());
  if (!discovered.ok) return failed(discovered);
  const found = discovered.value;
  const model = modelOf(found, models);
  if (!model) {
    const detail = `${found.length} characteristics, none streams loads`;
    return { ok: false, refused: true, why: 'pad-not-understood', detail };
  }

  /** Reads and decodes; null where the device does not have it or says nothing usable. */
  const read = async <T>(
    what: string,
    ref: CharacteristicRef,
    decode: (bytes: Uint8Array) => T | null,
  ): Promise<Done<T | null>> => {
    if (!findIn(found, ref)?.canRead) return { ok: true, value: null };
    const done = await operations.run(what, WAITS.operation, () =>
      connection.read(ref.service, ref.uuid),
    );
    if (done.ok) return { ok: true, value: decode(done.value) };
    return done.why === 'pad-command-refused' ? { ok: true, value: null } : done;
  };

  const serial = await read('read serial number', STANDARD.serial, decodeText);
  if (!serial.ok) return failed(serial);
  if (serial.value === null)
    return { ok: false, refused: true, why: 'pad-serial-missing', detail: model.title };
  const firmware = await read('read firmware', STANDARD.firmware, decodeText);
  if (!firmware.ok) return failed(firmware);
  const rating: Done<PadRating | null> =
    'fixed' in model.rating
      ? { ok: true, value: model.rating.fixed }
      : await read('read rating', model.rating.from, model.rating.decode);
  if (!rating.ok) return failed(rating);
  const battery = await read('read battery', STANDARD.battery, decodeBattery);
  if (!battery.ok) return failed(battery);
  const temperature = await read('read temperature', STANDARD.temperature, decodeTemperature);
  if (!temperature.ok) return failed(temperature);
  return {
    ok: true,
    pad: {
      model,
      found,
      serial: serial.value,
      firmware: firmware.value,
      rating: rating.value,
      battery: battery.value,
      temperature: temperature.value,
    },
  };
};
