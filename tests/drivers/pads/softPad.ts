import type { Scheduler } from '../../../core/scheduler.ts';
import { second } from '../../../core/units.ts';
import type { CharacteristicFound, SoftDevice } from '../../../drivers/pads/ports.ts';
import {
  CORNER_PAD_UUIDS,
  decodeCommand,
  encodeLoads,
  encodeRating,
} from '../../../drivers/pads/protocol/cornerPad.ts';
import { encodeBattery, encodeTemperature } from '../../../drivers/pads/protocol/standard.ts';

/**
 * A corner pad for tests: it converts, numbers and sends by the profile, and can be switched off,
 * restarted, and told to lose, repeat or hold back notifications. What it converted is counted, so
 * that a test can account for every sample.
 */
export interface SoftPad extends SoftDevice {
  /** Conversions since the first one that could be sent (a subscriber was there). */
  converted(): number;
  switched(on: boolean): void;
  restart(): void;
  commands: string[];
  subscriptions: number;
}

export interface SoftPadOptions {
  readonly scheduler: Scheduler;
  readonly key: string;
  readonly serial?: string | null;
  /** What becomes of each notification: how often it is sent, 1 unless said; −1 holds it back by one. */
  readonly fate?: (number: number) => number;
  readonly counts?: (number: number) => number;
  readonly characteristics?: readonly CharacteristicFound[];
  /** Parts in a million by which its clock runs fast. */
  readonly skewPpm?: number;
}

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

const readable = (service: string, uuid: string): CharacteristicFound => ({
  service,
  uuid,
  canRead: true,
  canWrite: false,
  canNotify: false,
});

export const PAD_CHARACTERISTICS: readonly CharacteristicFound[] = [
  readable('180a', '2a25'),
  readable('180a', '2a26'),
  readable('180f', '2a19'),
  { ...readable('181a', '2a6e'), canNotify: true },
  readable(CORNER_PAD_UUIDS.service, CORNER_PAD_UUIDS.rating),
  {
    ...readable(CORNER_PAD_UUIDS.service, CORNER_PAD_UUIDS.loads),
    canRead: false,
    canNotify: true,
  },
  {
    ...readable(CORNER_PAD_UUIDS.service, CORNER_PAD_UUIDS.control),
    canRead: false,
    canWrite: true,
  },
];

export const createSoftPad = (options: SoftPadOptions): SoftPad => {
  const { scheduler, key, serial = `SN-${key}`, fate = () => 1, skewPpm = 0 } = options;
  const counts = options.counts ?? ((n: number) => 1000 + ((n * 7) % 11));
  const rate = 80;
  let isOn = true;
  let sequence = 0;
  let startedAt = scheduler.now();
  let restarted = true;
  let sends = new Set<(bytes: Uint8Array) => void>();
  let firstSent: number | null = null;
  let restartsBase = 0;
  let notifications = 0;
  let heldBack: Uint8Array | null = null;

  const convert = (): void => {
    if (!isOn) {
      sequence += 4;
      return;
    }
    const first = sequence;
    sequence += 4;
    if (sends.size === 0) return;
    firstSent ??= first;
    const clock = (scheduler.now() - startedAt) * (1 + skewPpm / 1e6) - 3 / rate;
    const bytes = encodeLoads({
      sequence: first & 0xffff,
      clockMs: Math.round(clock * 1000) >>> 0,
      rate,
      counts: [0, 1, 2, 3].map((k) => counts(first + k)),
      flags: restarted ? 8 : 0,
    });
    restarted = false;
    const times = fate(notifications++);
    const held = heldBack;
    heldBack = null;
    if (times < 0) heldBack = bytes;
    for (let k = 0; k < times; k++) for (const send of sends) send(bytes);
    if (held) for (const send of sends) send(held);
  };
  scheduler.every(`soft pad ${key}`, second(4 / rate), convert);

  const pad: SoftPad = {
    key,
    name: `Pad ${key}`,
    services: [CORNER_PAD_UUIDS.service],
    characteristics: options.characteristics ?? PAD_CHARACTERISTICS,
    audible: () => isOn,
    read: (_service, uuid) => {
      switch (uuid) {
        case '2a25':
          return serial === null ? new Uint8Array(0) : bytesOf(serial);
        case '2a26':
          return bytesOf('1.0.3');
        case '2a19':
          return encodeBattery(77);
        case '2a6e':
          return encodeTemperature(21.5);
        case CORNER_PAD_UUIDS.rating:
          return encodeRating({ ratedLoad: 500, countsAtRatedLoad: 4_194_304, resolution: 1 });
        default:
          return null;
      }
    },
    write: (_service, uuid, bytes) => {
      const command = uuid === CORNER_PAD_UUIDS.control ? decodeCommand(bytes) : null;
      if (command) pad.commands.push(command.do);
      return command !== null;
    },
    subscribe: (_service, uuid, send) => {
      if (uuid !== CORNER_PAD_UUIDS.loads) return () => undefined;
      pad.subscriptions++;
      sends.add(send);
      return () => sends.delete(send);
    },
    signal: () => -60,
    converted: () => (firstSent === null ? 0 : restartsBase + sequence - firstSent),
    switched: (on) => {
      isOn = on;
    },
    restart: () => {
      restartsBase += sequence - (firstSent ?? 0);
      firstSent = 0;
      sequence = 0;
      startedAt = scheduler.now();
      restarted = true;
      sends = new Set();
    },
    commands: [],
    subscriptions: 0,
  };
  return pad;
};
