import type { SoftDevice } from '../../drivers/pads/ports.ts';
import {
  CORNER_PAD_UUIDS,
  decodeCommand,
  encodeLoads,
  encodeRating,
} from '../../drivers/pads/protocol/cornerPad.ts';

/**
 * A pad that weighs nothing and counts: 80 notifications a second of one sample each, whose counts
 * are the running number of the notification. So whoever receives can say which came, in which
 * order, how often and how late.
 */

const RATE = 80;
const PERIOD_MS = 1000 / RATE;
/** Counts are 24 bits: a pad may count for a day and a quarter. */
const COUNTS = 1 << 23;

export interface CounterPad extends SoftDevice {
  /** When each number was handed to the radio library, ms of the host's monotonic clock. */
  readonly sentAt: Map<number, number>;
  /** Writes that its control point took. */
  readonly commands: string[];
  /** How many subscribe at this moment. */
  subscribers(): number;
}

export const createCounterPad = (serial: string): CounterPad => {
  const sentAt = new Map<number, number>();
  const commands: string[] = [];
  let next = 0;
  let begun: number | null = null;
  let subscribers = 0;

  const encode = (number: number): Uint8Array =>
    encodeLoads({
      sequence: number & 0xffff,
      clockMs: Math.round(number * PERIOD_MS),
      rate: RATE,
      counts: [number % COUNTS],
      flags: 0,
    });

  const text = (value: string): Uint8Array => new TextEncoder().encode(value);
  const readOnly = { canRead: true, canWrite: false, canNotify: false };
  const values: Readonly<Record<string, Uint8Array>> = {
    '180a/2a25': text(serial),
    // Longer than one HCI buffer of 27 bytes, so that it comes in fragments.
    '180a/2a26': text('counter 1.0.0, which only counts; not for weighing'),
    '180f/2a19': Uint8Array.of(87),
    [`${CORNER_PAD_UUIDS.service}/${CORNER_PAD_UUIDS.rating}`]: encodeRating({
      ratedLoad: 700,
      countsAtRatedLoad: 4_000_000,
      resolution: 1,
    }),
  };

  return {
    key: serial,
    name: `Counter ${serial}`,
    services: [CORNER_PAD_UUIDS.service],
    characteristics: [
      { service: '180a', uuid: '2a25', ...readOnly },
      { service: '180a', uuid: '2a26', ...readOnly },
      { service: '180f', uuid: '2a19', ...readOnly },
      { service: CORNER_PAD_UUIDS.service, uuid: CORNER_PAD_UUIDS.rating, ...readOnly },
      {
        service: CORNER_PAD_UUIDS.service,
        uuid: CORNER_PAD_UUIDS.control,
        ...readOnly,
        canRead: false,
        canWrite: true,
      },
      {
        service: CORNER_PAD_UUIDS.service,
        uuid: CORNER_PAD_UUIDS.loads,
        ...readOnly,
        canRead: false,
        canNotify: true,
      },
    ],
    sentAt,
    commands,
    subscribers: () => subscribers,
    audible: () => true,
    signal: () => -52,
    read: (service, uuid) => values[`${service}/${uuid}`] ?? null,
    write: (_service, uuid, bytes) => {
      const command = uuid === CORNER_PAD_UUIDS.control ? decodeCommand(bytes) : null;
      if (command) commands.push(command.do);
      return command !== null;
    },
    subscribe: (_service, uuid, send) => {
      if (uuid !== CORNER_PAD_UUIDS.loads) return () => undefined;
      subscribers += 1;
      begun ??= performance.now();
      // What fell due while nobody listened was converted and not sent: its numbers are holes.
      next = Math.max(next, Math.ceil((performance.now() - begun) / PERIOD_MS));
      const timer = setInterval(() => {
        const due = Math.floor((performance.now() - (begun ?? 0)) / PERIOD_MS);
        while (next <= due) {
          sentAt.set(next, performance.now());
          send(encode(next));
          next += 1;
        }
      }, PERIOD_MS / 5);
      return () => {
        clearInterval(timer);
        subscribers -= 1;
      };
    },
  };
};
