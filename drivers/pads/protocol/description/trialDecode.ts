import type { Packet } from '../model.ts';
import { exactTimes } from './exactScale.ts';
import type { ExactLoad, LoadDecoder } from './loadDecoder.ts';
import type { Step } from './payloadPlan.ts';
import { readNumber } from './walkPayload.ts';

/** One stretch of bytes and what it was read as. */
export interface TrialPiece {
  /** First byte, and the first after the last. */
  readonly from: number;
  readonly to: number;
  readonly hex: string;
  /** Name of the field; null for bytes that the description does not read. */
  readonly field: string | null;
  readonly is: string | null;
  /** What the bytes say, for people: "53.48 g", "0b00000001", "513"; null where nothing is read. */
  readonly value: string | null;
}

/** Bytes beside decoded values: what a description makes of one payload. */
export interface Trial {
  /** Null where the payload is accepted, else why it is not. */
  readonly why: string | null;
  /** In the order of the bytes, without holes; of a refused payload as far as it was read. */
  readonly pieces: readonly TrialPiece[];
  readonly loads: readonly ExactLoad[];
  readonly packet: Packet | null;
}

const hexOf = (bytes: Uint8Array): string =>
  Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join(' ');

/** Decodes one payload and says which bytes gave which value. Total, as the decoder. */
export const trialDecode = (decoder: LoadDecoder, bytes: Uint8Array): Trial => {
  const weighed = decoder.weigh(bytes);
  const { decoded, walk } = decoder.look(bytes);
  // The bits that choose the unit may lie beyond where a refused payload was read to.
  const isUnitRead = decoder.units.every(
    ({ when }) => !when || (walk.starts[when.step] ?? -1) >= 0,
  );
  const unit = isUnitRead ? decoder.unitOf(walk) : null;

  const valueOf = (step: Step, from: number): string | null => {
    if (step.width > 4) return null;
    const raw = readNumber(bytes, from, step);
    if (step.field.is === 'bits') return `0b${raw.toString(2).padStart(8 * step.width, '0')}`;
    if (step.field.is !== 'load') return String(raw);
    if (step.field.sentinels?.some(({ value }) => value === raw)) return `${raw}, no load`;
    return unit ? `${exactTimes(raw, unit.scale)} ${unit.unit}` : String(raw);
  };

  const read = decoder.plan.steps.flatMap((step, index): TrialPiece[] => {
    const start = walk.starts[index] ?? -1;
    if (start < 0) return [];
    return Array.from({ length: step.repeat ? walk.samples : 1 }, (_, k) => {
      const from = start + k * step.width;
      const to = from + step.width;
      const hex = hexOf(bytes.subarray(from, to));
      return {
        from,
        to,
        hex,
        field: step.field.name,
        is: step.field.is,
        value: valueOf(step, from),
      };
    });
  });
  read.sort((a, b) => a.from - b.from);
  const pieces: TrialPiece[] = [];
  let end = 0;
  const leaveTo = (to: number): void => {
    if (to <= end) return;
    const hex = hexOf(bytes.subarray(end, to));
    pieces.push({ from: end, to, hex, field: null, is: null, value: null });
  };
  for (const piece of read) {
    leaveTo(piece.from);
    pieces.push(piece);
    end = piece.to;
  }
  leaveTo(bytes.length);
  return {
    why: decoded.ok ? null : decoded.why,
    pieces,
    loads: weighed.ok ? weighed.loads : [],
    packet: decoded.ok ? decoded.packet : null,
  };
};
