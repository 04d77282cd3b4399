import type { Corner, PerCorner } from '../corners.ts';
import type { Fault } from '../faults.ts';
import type { GapReason, PadRating, PadSample } from '../reading.ts';
import type { Second } from '../units.ts';

/**
 * What the bench needs of the outside, as it sees it. It knows pads by serial number and readings
 * by time; it knows nothing of radios, bytes, files or processes.
 */

export const RADIO_STATES = [
  'starting',
  'on',
  'off',
  'absent',
  'not permitted',
  'unsupported',
  'library missing',
] as const;
export type RadioState = (typeof RADIO_STATES)[number];

export const LINK_PHASES = [
  'found',
  'waiting',
  'connecting',
  'discovering',
  'subscribing',
  'live',
  'lost',
  'backing off',
  'refused',
] as const;
export type LinkPhase = (typeof LINK_PHASES)[number];

/** What the device layer knows of one pad. */
export interface PadStatus {
  /** Names the link, not the pad: addresses change and on some systems are hidden. */
  readonly key: string;
  /** The pad's identity; null until it was read. */
  readonly serial: string | null;
  readonly name: string;
  /** Registry name of the pad model; null until discovered. */
  readonly model: string | null;
  readonly firmware: string | null;
  readonly rating: PadRating | null;
  readonly phase: LinkPhase;
  readonly phaseSince: Second;
  /** Received signal strength, dBm; null where unknown. */
  readonly signal: number | null;
  /** Battery, percent; null where unknown. */
  readonly battery: number | null;
  /** Pad temperature, °C; null where unknown. */
  readonly temperature: number | null;
  /** Sample rate as measured, Hz; null until a second of samples is there. */
  readonly rate: number | null;
  readonly received: number;
  readonly missing: number;
  readonly duplicates: number;
  readonly late: number;
  /** Faults that hold now or happened within the last minute, newest first. */
  readonly faults: readonly Fault[];
}

export type PadsEvent =
  | { readonly kind: 'radio'; readonly state: RadioState; readonly fault: Fault | null }
  /** The whole list, sent when something in it changed, at most four times a second. */
  | { readonly kind: 'pads'; readonly pads: readonly PadStatus[] }
  | { readonly kind: 'samples'; readonly serial: string; readonly samples: readonly PadSample[] }
  | {
      readonly kind: 'gap';
      readonly serial: string;
      readonly from: Second;
      readonly to: Second;
      readonly missing: number | null;
      readonly reason: GapReason;
    }
  /** Once, when it happens; the log of faults is made of these. */
  | { readonly kind: 'fault'; readonly fault: Fault };

/** An answer that may be a fault; never a throw. */
export type Outcome = { readonly ok: true } | { readonly ok: false; readonly fault: Fault };

/** A source of pads: a radio, the practice rig or a recording. */
export interface PadsPort {
  /** Begins; events come until the returned function is called, which settles when all is shut. */
  start(listener: (event: PadsEvent) => void): () => Promise<void>;
  /** Blinks the pad's light. */
  identify(serial: string): Promise<Outcome>;
  /** Asks for a sample rate, Hz: 10, 20, 40 or 80 for the corner-pad profile. */
  setRate(serial: string, rate: number): Promise<Outcome>;
}

export const PAD_SOURCES = ['rig', 'bluetooth', 'recording'] as const;
export type PadSource = (typeof PAD_SOURCES)[number];

/** The hands on the practice car. Absent (null) with real pads. */
export interface PracticePort {
  /** Serial number of the pad that stands under each wheel: nobody can press a simulated pad. */
  readonly pads: PerCorner<string>;
  lower(): void;
  raise(): void;
  /** Turns one perch; up (positive) raises the body there. Turns, may be a fraction. */
  turn(corner: Corner, turns: number): void;
  /** Somebody leans on the rear of the car, or lets go. */
  lean(on: boolean): void;
  state(): PracticeState;
}

export interface PracticeState {
  readonly car: 'raised' | 'lowering' | 'on the pads' | 'raising';
  readonly leaning: boolean;
  /** Turns of each perch since the start, up positive. */
  readonly turns: PerCorner<number>;
}

/** Opens a source of pads. Throws nothing: what is wrong comes as events. */
export type OpenPads = (source: PadSource) => {
  readonly pads: PadsPort;
  readonly practice: PracticePort | null;
};
