import type { OffCentrePlace } from '../calibration/offCentre.ts';
import type { PaperDocument } from '../paper/paperDocument.ts';
import type { BallastEnd, BallastPlan } from '../scrutineering/ballastPlan.ts';
import type { BallastProblem } from '../scrutineering/ballastProblem.ts';
import type { PaperSize } from '../contract/settings.ts';
import type { GuestCode, GuestsShown } from '../contract/guests.ts';
import type { GuestView } from '../contract/guestView.ts';
import type { PracticeHappening } from '../contract/practiceRun.ts';
import type { TrialShown } from '../contract/trialShown.ts';
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
  /** Seconds since the pad was switched on, by its own clock; null where it does not say. */
  readonly onFor: number | null;
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

/** Lays papers out; what does it is a driver's. */
export interface PaperPort {
  /** The paper as PDF, its bytes in base64. */
  pdf(paper: PaperDocument, size: PaperSize): Promise<string>;
}

/** Plans ballast beside the bench; what does it is a driver's. */
export interface BallastPort {
  /**
   * Begins; every better plan is told as it is found, and the end once. The function returned ends it at
   * once and settles when nothing of it is left.
   */
  solve(
    problem: BallastProblem,
    told: {
      readonly better: (plan: BallastPlan) => void;
      readonly ended: (end: BallastEnd) => void;
    },
  ): () => Promise<void>;
}

/** Lets phones and tablets on the team's network read along; what serves them is a host's. */
export interface GuestPort {
  /** Opens the port; opening an open one does nothing. */
  open(): Promise<
    { readonly ok: true } | { readonly ok: false; readonly why: 'no port' | 'not built' }
  >;
  /** Shuts the port: every guest is cut off, and may come back when it is opened again. */
  close(): Promise<void>;
  /** Makes the code of one device, the same at each address of this computer. */
  invite(
    name: string,
  ):
    | { readonly ok: true; readonly id: string; readonly codes: readonly GuestCode[] }
    | { readonly ok: false; readonly why: 'shut' | 'too many' };
  /** Cuts the guest off for ever; false where there is none of that id. */
  revoke(id: string): boolean;
  /** Somebody is connected and would see a view. */
  isWatched(): boolean;
  /** Sends the view to every guest that has taken its last one. */
  show(view: GuestView): void;
  state(): GuestsShown;
  /** Tells of guests that join and leave, until the answer is called. */
  onChange(changed: () => void): () => void;
}

/** Tries pad descriptions: what reads them is the device layer's. */
export interface PadDescriptionPort {
  /** What a description makes of one payload, or of none. */
  tryOn(text: string, bytes: Uint8Array | null): TrialShown;
  /** The name it gives itself; null where it cannot be used. */
  nameOf(text: string): string | null;
}

/** A source of pads: a radio, the practice rig or a recording. */
export interface PadsPort {
  /** Begins; events come until the returned function is called, which settles when all is shut. */
  start(listener: (event: PadsEvent) => void): () => Promise<void>;
  /** Blinks the pad's light. */
  identify(serial: string): Promise<Outcome>;
  /** Asks for a sample rate, Hz: 10, 20, 40 or 80 for the corner-pad profile. */
  setRate(serial: string, rate: number): Promise<Outcome>;
  /** The newest payload of a pad, as it came; null where none was heard. */
  lastPayload(serial: string): Uint8Array | null;
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
  /** What a staff shows on a pad at a point from its centre, metre: higher ground reads less. */
  readStaff(corner: Corner, x: number, y: number): number;
  /**
   * Sends the raised car on a run with what happens to it there, and sets it down raised; not where
   * it would burn more than its tank holds: false.
   */
  sendOut(happens: readonly PracticeHappening[] | 'surprise'): boolean;
  /** What happened on each run, oldest first. */
  runs(): readonly (readonly PracticeHappening[])[];
  /** One reading by hand of the car as it stands: metre or rad. */
  readGauge(of: PracticeGauge): number;
  /** Takes the rig to a place of that gravity, m/s². */
  standAt(gravity: number): void;
  /** Masses, kg, on a pad: 0 takes them off. The edges lie so far from the middle, metre. */
  putMasses(padSerial: string, masses: PracticeMasses): void;
  /** One pad on another and both pressed, newton; null takes them apart. */
  pressStack(stack: PracticeStack | null): void;
  state(): PracticeState;
}

/** What is read by hand: a point of the body over the pad, metre, or a wheel's angle. */
export type PracticeGauge =
  | { readonly is: 'height'; readonly x: number; readonly y: number; readonly above: number }
  | { readonly is: 'toe' | 'camber'; readonly corner: Corner };

export interface PracticeMasses {
  readonly mass: number;
  readonly place: OffCentrePlace;
  readonly distance: number;
}

export interface PracticeStack {
  readonly upper: string;
  readonly lower: string;
  readonly force: number;
}

export interface PracticeState {
  readonly car: 'raised' | 'lowering' | 'on the pads' | 'raising';
  readonly leaning: boolean;
  /** Turns of each perch since the start, up positive. */
  readonly turns: PerCorner<number>;
  /** Masses on the pads, kg, by serial number; pads without any are not named. */
  readonly masses: Readonly<Record<string, number>>;
  readonly stack: PracticeStack | null;
  /** How often the car has been out. */
  readonly runs: number;
}

/**
 * Opens a source of pads, with the texts of pad descriptions to use beside the built-in models.
 * Throws nothing: what is wrong comes as events.
 */
export type OpenPads = (
  source: PadSource,
  descriptions: readonly string[],
) => {
  readonly pads: PadsPort;
  readonly practice: PracticePort | null;
};
