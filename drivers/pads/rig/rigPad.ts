import { SAMPLE_FLAGS } from '../../../core/reading.ts';
import type { CharacteristicFound, SoftDevice } from '../ports.ts';
import {
  CORNER_PAD_UUIDS,
  decodeCommand,
  encodeLoads,
  encodeRating,
} from '../protocol/cornerPad.ts';
import { encodeBattery, encodeTemperature } from '../protocol/standard.ts';
import { createAirFaults, type AirFaults } from './airFaults.ts';
import { NOISE, type RigNoise } from './noiseLevels.ts';
import { createPadElectronics, type PadElectronics } from './padElectronics.ts';
import type { Random } from './random.ts';

/**
 * One simulated corner pad: the firmware side of the open corner-pad profile. It samples by its own
 * clock, which is a little fast or slow and in step with no other pad's, and sends the same bytes
 * as hardware. Times are the rig's, in seconds; the rig says when the force is what.
 */
export interface RigPad {
  readonly device: SoftDevice;
  readonly serial: string;
  readonly electronics: PadElectronics;
  readonly air: AirFaults;
  /** How fast its clock runs against true time, as a share. */
  readonly clockError: number;
  /** Rig time of its next conversion. */
  nextAt(): number;
  /** Converts the force that acts at `nextAt` and sends what is full. */
  convert(force: number): void;
  /** The computer slept until `t`: conversions went on and could not be sent. */
  sleepTo(t: number): void;
  /** Cannot be heard for some seconds from `t`; sampling and numbering go on. */
  fade(t: number, seconds: number): void;
  /** Battery contact lost for a moment: numbers and clock begin again, the link is gone. */
  restart(t: number): void;
  /** Whether its light blinks at `t`. */
  blinks(t: number): boolean;
}

export interface RigPadOptions {
  readonly serial: string;
  readonly noise: RigNoise;
  readonly random: Random;
  /** Rig time that has been simulated so far, s. */
  readonly now: () => number;
}

const INFORMATION = {
  manufacturer: '2a29',
  model: '2a24',
  serial: '2a25',
  firmware: '2a26',
} as const;
/** Crystals are good to some tens of ppm; the profile allows 200. */
const CLOCK_ERROR = 40e-6;
/** Longest time a pad was on before the rig began, s. */
const LONGEST_ON = 3000;
const FIRST_RATE = 80;
/**
 * Samples of a notification: latency matters more than air time here, so half of what would fit.
 */
const batchAt = (rate: number): number => (rate > 20 ? 2 : 1);
/** Seconds a restart takes until the pad is heard again. */
const RESTART_TIME = 1;

const readable = (service: string, uuid: string): CharacteristicFound => ({
  service,
  uuid,
  canRead: true,
  canWrite: false,
  canNotify: false,
});

const CHARACTERISTICS: readonly CharacteristicFound[] = [
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
  readable(CORNER_PAD_UUIDS.service, CORNER_PAD_UUIDS.rating),
  ...Object.values(INFORMATION).map((uuid) => readable('180a', uuid)),
  readable('180f', '2a19'),
  readable('181a', '2a6e'),
];

/** Switches one pad on. Its traits come from `random`, which should be its own. */
export const createRigPad = (options: RigPadOptions): RigPad => {
  const { serial, random, now } = options;
  const electronics = createPadElectronics(options.noise, random);
  const air = createAirFaults(NOISE[options.noise], random);
  const clockError = random.between(-CLOCK_ERROR, CLOCK_ERROR);
  const wasOn = random.between(1, LONGEST_ON);
  const strength = random.between(-64, -52);
  const pace = 1 + clockError;

  let rate = FIRST_RATE;
  let sequence = Math.floor(wasOn * FIRST_RATE);
  let clockZero = -wasOn;
  let next = now() + random.uniform() / FIRST_RATE;
  let blinkUntil = -Infinity;
  let silentUntil = -Infinity;
  let restarted = false;
  let subscriber: ((bytes: Uint8Array) => void) | null = null;
  const batch = { counts: [] as number[], sequence: 0, clockMs: 0, flags: 0 };

  const sendBatch = (): void => {
    if (batch.counts.length === 0) return;
    const to = subscriber;
    if (to !== null && next > silentUntil && electronics.battery() > 0) {
      const flags = batch.flags | (restarted ? SAMPLE_FLAGS.restarted : 0);
      restarted = false;
      air.pass(encodeLoads({ ...batch, sequence: batch.sequence & 0xffff, rate, flags }), to);
    }
    batch.counts = [];
  };

  const convert = (force: number): void => {
    const counts = electronics.convert(force, next, rate);
    const flags = electronics.flags();
    if (flags !== batch.flags) sendBatch();
    if (batch.counts.length === 0) {
      batch.sequence = sequence;
      batch.clockMs = Math.round((next - clockZero) * pace * 1000) % 2 ** 32;
      batch.flags = flags;
    }
    batch.counts.push(counts);
    sequence += 1;
    if (batch.counts.length >= batchAt(rate)) sendBatch();
    next += 1 / (rate * pace);
  };

  const write = (service: string, uuid: string, bytes: Uint8Array): boolean => {
    if (service !== CORNER_PAD_UUIDS.service || uuid !== CORNER_PAD_UUIDS.control) return false;
    const command = decodeCommand(bytes);
    if (command === null) return false;
    switch (command.do) {
      case 'set rate':
        sendBatch();
        rate = command.rate;
        next = now() + 1 / (rate * pace);
        return true;
      case 'identify':
        blinkUntil = now() + command.seconds;
        return true;
      case 'reset clock':
        sendBatch();
        clockZero = now();
        return true;
    }
  };

  const text = (value: string): Uint8Array =>
    Uint8Array.from(value, (letter) => letter.charCodeAt(0));
  const readings = new Map<string, () => Uint8Array>([
    [CORNER_PAD_UUIDS.rating, () => encodeRating(electronics.rating)],
    [INFORMATION.manufacturer, () => text('Millpond practice rig')],
    [INFORMATION.model, () => text('Practice pad 500')],
    [INFORMATION.serial, () => text(serial)],
    [INFORMATION.firmware, () => text('1.0.0')],
    ['2a19', () => encodeBattery(Math.round(electronics.battery()))],
    ['2a6e', () => encodeTemperature(electronics.temperature())],
  ]);

  const device: SoftDevice = {
    key: `rig:${serial}`,
    name: `Corner pad ${serial.replace(/^\D+/u, '')}`,
    services: [CORNER_PAD_UUIDS.service],
    characteristics: CHARACTERISTICS,
    audible: () => now() >= silentUntil && electronics.battery() > 0,
    read: (service, uuid) => {
      const known = CHARACTERISTICS.find((one) => one.service === service && one.uuid === uuid);
      return known?.canRead ? (readings.get(uuid)?.() ?? null) : null;
    },
    write,
    subscribe: (service, uuid, send) => {
      if (service !== CORNER_PAD_UUIDS.service || uuid !== CORNER_PAD_UUIDS.loads)
        return () => undefined;
      // A pad has one subscription: a new one takes the place of one that a dead link left behind.
      subscriber = send;
      air.clear();
      return () => {
        if (subscriber === send) subscriber = null;
      };
    },
    signal: () => Math.round(strength + 2 * Math.sin((2 * Math.PI * (now() + wasOn)) / 41)),
  };

  return {
    device,
    serial,
    electronics,
    air,
    clockError,
    nextAt: () => next,
    convert,
    sleepTo: (t) => {
      const missed = Math.ceil((t - next) * rate * pace);
      if (missed <= 0) return;
      batch.counts = [];
      air.clear();
      sequence += missed;
      next += missed / (rate * pace);
    },
    fade: (t, seconds) => {
      silentUntil = Math.max(silentUntil, t + seconds);
      air.clear();
    },
    restart: (t) => {
      batch.counts = [];
      air.clear();
      subscriber = null;
      restarted = true;
      rate = FIRST_RATE;
      sequence = 0;
      clockZero = t + RESTART_TIME;
      next = clockZero + 1 / (rate * pace);
      silentUntil = Math.max(silentUntil, clockZero);
    },
    blinks: (t) => t < blinkUntil,
  };
};
