import type { PadRating } from '../../../core/reading.ts';

/**
 * What a pad model is: data and pure functions that give bytes a meaning. It never sees a
 * transport. Decoders are total: length first, then bytes in, packet or reason out, never a throw.
 */

/** One notification, decoded. */
export interface Packet {
  /** Number of the first sample, counted by the pad modulo 65536; null where the model has none. */
  readonly sequence: number | null;
  /** Pad clock at the first sample, milliseconds modulo 2³²; null where the model has none. */
  readonly clockMs: number | null;
  /** Rate the pad says it samples at, Hz; null where the model does not say. */
  readonly rate: number | null;
  /** Conversions, oldest first: one to four of a corner pad, up to 32 of a described one. */
  readonly counts: readonly number[];
  /** Sum of SAMPLE_FLAGS, for every sample of the packet. */
  readonly flags: number;
}

export type Decoded =
  { readonly ok: true; readonly packet: Packet } | { readonly ok: false; readonly why: string };

export interface CharacteristicRef {
  readonly service: string;
  readonly uuid: string;
}

export type PadCommand =
  | { readonly do: 'set rate'; readonly rate: number }
  | { readonly do: 'identify'; readonly seconds: number }
  | { readonly do: 'reset clock' };

/** What is written to a pad on every new link, with response. */
export interface StartWrite {
  readonly at: CharacteristicRef;
  readonly bytes: Uint8Array;
  readonly when: 'before stream' | 'after stream';
}

export interface PadModel {
  /** Registry name. */
  readonly name: string;
  /** What people read. */
  readonly title: string;
  /** Service that tells this model when a device advertises or offers it. */
  readonly service: string;
  /** Further services of which one, advertised, tells this model too. */
  readonly alsoAdvertised?: readonly string[];
  /** The characteristic that streams, by notification or indication. */
  readonly stream: CharacteristicRef;
  /** Written before and after subscribing, in this order; left out, nothing is. */
  readonly start?: readonly StartWrite[];
  readonly decode: (bytes: Uint8Array) => Decoded;
  /** Whether an untouched pad always shows converter noise: a number that stands still is then a fault. */
  readonly noisy: boolean;
  /** Silence after which the link is made anew, s. */
  readonly silentAfter: number;
  /** Where the rating is read and how; or what it is, null where nobody knows. */
  readonly rating:
    | { readonly from: CharacteristicRef; readonly decode: (bytes: Uint8Array) => PadRating | null }
    | { readonly fixed: PadRating | null };
  /** Where commands are written and how; null where the model takes none. */
  readonly control: {
    readonly at: CharacteristicRef;
    readonly encode: (command: PadCommand) => Uint8Array;
  } | null;
}
