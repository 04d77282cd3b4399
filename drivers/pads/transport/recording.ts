import type { CharacteristicFound } from '../ports.ts';

/**
 * The recording format, version 1: JSON lines, so that a recording cut short is still one.
 *
 *   {"format":"millpond-recording","version":1}
 *   {"device":0,"key":"…","name":"…","services":["…"],"signal":-61,"characteristics":[
 *     {"service":"180a","uuid":"2a25","canRead":true,"canWrite":false,"canNotify":false,"value":"4d50"}]}
 *   [12.5,0,"…service","…uuid","0102ff"]
 *
 * The first line is the header. A device line comes before the first notification of its device and
 * gives what it advertises, has, and answered when it was read (hex; absent where it was not read).
 * Every other line is a notification: arrival in ms since the recording began, never falling; number
 * of the device; service; characteristic; bytes in hex. Numbers of devices count up from 0.
 */
const RECORDING_FORMAT = 'millpond-recording';
const RECORDING_VERSION = 1;

export interface RecordedCharacteristic extends CharacteristicFound {
  /** What it answered when it was read; null where it was not. */
  readonly value: Uint8Array | null;
}

export interface RecordedDevice {
  readonly key: string;
  readonly name: string;
  readonly services: readonly string[];
  readonly signal: number | null;
  readonly characteristics: readonly RecordedCharacteristic[];
}

export interface RecordedNotification {
  /** Arrival, ms since the recording began. */
  readonly ms: number;
  readonly device: number;
  readonly service: string;
  readonly uuid: string;
  readonly bytes: Uint8Array;
}

export interface Recording {
  readonly devices: readonly RecordedDevice[];
  readonly notifications: readonly RecordedNotification[];
}

export type RecordingParsed =
  | { readonly ok: true; readonly recording: Recording }
  | { readonly ok: false; readonly line: number; readonly why: string };

/** Up to here a double keeps every microsecond: some 285 years. */
const LATEST_MS = Number.MAX_SAFE_INTEGER / 1000;

class Damaged extends Error {}

/** Bytes as hex, lower case. */
const toHex = (bytes: Uint8Array): string =>
  Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');

const fromHex = (text: unknown): Uint8Array => {
  if (typeof text !== 'string' || !/^(?:[0-9a-f]{2})*$/.test(text))
    throw new Damaged('not bytes in lower-case hex');
  return Uint8Array.from(text.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
};

const uuid = (value: unknown): string => {
  if (typeof value !== 'string' || !/^(?:[0-9a-f]{4}|[0-9a-f]{32})$/.test(value))
    throw new Damaged('not a UUID of 4 or 32 lower-case hex digits');
  return value;
};

const text = (value: unknown, what: string): string => {
  if (typeof value !== 'string') throw new Damaged(`${what} is not a text`);
  return value;
};

const list = (value: unknown, what: string): readonly unknown[] => {
  if (!Array.isArray(value)) throw new Damaged(`${what} is not a list`);
  return value as readonly unknown[];
};

const fields = (value: unknown, what: string): Readonly<Record<string, unknown>> => {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new Damaged(`${what} is not an object`);
  return value as Readonly<Record<string, unknown>>;
};

const yesOrNo = (value: unknown, what: string): boolean => {
  if (typeof value !== 'boolean') throw new Damaged(`${what} is neither true nor false`);
  return value;
};

const characteristic = (value: unknown): RecordedCharacteristic => {
  const one = fields(value, 'a characteristic');
  return {
    service: uuid(one['service']),
    uuid: uuid(one['uuid']),
    canRead: yesOrNo(one['canRead'], 'canRead'),
    canWrite: yesOrNo(one['canWrite'], 'canWrite'),
    canNotify: yesOrNo(one['canNotify'], 'canNotify'),
    value: one['value'] === undefined ? null : fromHex(one['value']),
  };
};

const header = (value: unknown): void => {
  const one = fields(value, 'the header');
  if (one['format'] !== RECORDING_FORMAT) throw new Damaged('not a Millpond recording');
  if (one['version'] !== RECORDING_VERSION)
    throw new Damaged(
      `version ${JSON.stringify(one['version'])}; ${RECORDING_VERSION} can be read`,
    );
};

const device = (value: unknown, devices: readonly RecordedDevice[]): RecordedDevice => {
  const one = fields(value, 'a device');
  if (one['device'] !== devices.length)
    throw new Damaged(`device ${JSON.stringify(one['device'])} where ${devices.length} comes next`);
  const key = text(one['key'], 'key');
  if (devices.some((before) => before.key === key)) throw new Damaged(`key ${key} comes twice`);
  const signal = one['signal'] ?? null;
  // JSON may say 1e309, which is read as infinite.
  if (signal !== null && !(typeof signal === 'number' && Number.isFinite(signal)))
    throw new Damaged('signal is not a number');
  return {
    key,
    name: text(one['name'], 'name'),
    services: list(one['services'], 'services').map(uuid),
    signal,
    characteristics: list(one['characteristics'], 'characteristics').map(characteristic),
  };
};

const notification = (
  value: readonly unknown[],
  devices: readonly RecordedDevice[],
  after: number,
): RecordedNotification => {
  if (value.length !== 5) throw new Damaged(`${value.length} items; a notification has 5`);
  const [ms, number, service, id, bytes] = value;
  if (typeof ms !== 'number' || !(ms >= 0 && ms <= LATEST_MS))
    throw new Damaged('the time is not a number of ms');
  if (ms < after) throw new Damaged(`time goes back from ${after} to ${ms} ms`);
  const from = typeof number === 'number' ? devices[number] : undefined;
  if (!from) throw new Damaged(`device ${JSON.stringify(number)} was not described before`);
  const one = { service: uuid(service), uuid: uuid(id) };
  const isKnown = from.characteristics.some(
    (has) => has.canNotify && has.service === one.service && has.uuid === one.uuid,
  );
  if (!isKnown) throw new Damaged(`device ${JSON.stringify(number)} does not notify ${one.uuid}`);
  return { ms, device: number as number, ...one, bytes: fromHex(bytes) };
};

const parsed = (line: string): unknown => {
  try {
    return JSON.parse(line) as unknown;
  } catch {
    throw new Damaged('not JSON');
  }
};

/** Parses a recording; what is wrong is said with its line, counted from 1. Empty lines are skipped. */
export const parseRecording = (source: string): RecordingParsed => {
  const devices: RecordedDevice[] = [];
  const notifications: RecordedNotification[] = [];
  let hasHeader = false;
  let last = 0;
  const lines = source.replace(/^\uFEFF/, '').split('\n');
  for (const [index, raw] of lines.entries()) {
    const line = raw.trim();
    if (line === '') continue;
    try {
      const value = parsed(line);
      if (!hasHeader) {
        header(value);
        hasHeader = true;
      } else if (Array.isArray(value)) {
        const one = notification(value as readonly unknown[], devices, last);
        last = one.ms;
        notifications.push(one);
      } else devices.push(device(value, devices));
    } catch (error) {
      if (!(error instanceof Damaged)) throw error;
      // A recorder that was cut off leaves half a line at the very end: what is before it is whole.
      if (index === lines.length - 1 && hasHeader && error.message === 'not JSON') break;
      return { ok: false, line: index + 1, why: error.message };
    }
  }
  if (!hasHeader) return { ok: false, line: 1, why: 'it is empty' };
  if (devices.length === 0) return { ok: false, line: lines.length, why: 'no device is in it' };
  return { ok: true, recording: { devices, notifications } };
};

/** The header line. */
export const headerLine = (): string =>
  JSON.stringify({ format: RECORDING_FORMAT, version: RECORDING_VERSION });

/** The line that describes a device. */
export const deviceLine = (number: number, { characteristics, ...about }: RecordedDevice): string =>
  JSON.stringify({
    device: number,
    ...about,
    characteristics: characteristics.map(({ value, ...one }) =>
      value ? { ...one, value: toHex(value) } : one,
    ),
  });

/** The line of a notification; times are kept to the microsecond. */
export const notificationLine = (one: RecordedNotification): string =>
  JSON.stringify([
    Math.round(one.ms * 1000) / 1000,
    one.device,
    one.service,
    one.uuid,
    toHex(one.bytes),
  ]);
