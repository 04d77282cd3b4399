import type { Condition, DescribedField } from './fieldSchema.ts';

/**
 * Fields made ready to be walked: names became indices, bits became masks. A plan knows where
 * things are and nothing of what they mean.
 */

/** Bits of an earlier step's number that must be as wanted. */
export interface Mask {
  readonly step: number;
  readonly mask: number;
  readonly want: number;
}

export interface Step {
  readonly field: DescribedField;
  /** Bytes of the field; of one sample where it repeats. */
  readonly width: number;
  readonly isBig: boolean;
  readonly isSigned: boolean;
  /** Offset from the start, or the end where negative; null is after the field before. */
  readonly at: number | null;
  readonly when: Mask | null;
  readonly repeat: { readonly least: number; readonly most: number } | null;
  /** Bits that must be zero. */
  readonly zero: number;
}

export interface PayloadPlan {
  readonly steps: readonly Step[];
  /** Accepted lengths; null where the fields' own length is the only one. */
  readonly lengths: ReadonlySet<number> | null;
  /** Bytes that are placed from the end. */
  readonly tail: number;
  /** Bytes between the last sample and the tail. */
  readonly afterSamples: number;
}

/** What a plan is made of: the payload of the stream, or that of the rating. */
export interface PlannedPayload {
  readonly endian: 'little' | 'big';
  readonly lengths?: readonly number[] | undefined;
  readonly fields: readonly DescribedField[];
}

const maskOf = (bits: readonly number[]): number =>
  bits.reduce((mask, bit) => (mask | (1 << bit)) >>> 0, 0);

/** A condition on a field by its place in the list; −1 stands for one that is not there. */
export const maskFor = (fields: readonly DescribedField[], condition: Condition): Mask => {
  let want = 0;
  condition.bits.forEach((bit, k) => {
    if ((condition.is >> k) & 1) want = (want | (1 << bit)) >>> 0;
  });
  const step = fields.findIndex((field) => field.name === condition.field);
  return { step, mask: maskOf(condition.bits), want };
};

export const holds = ({ step, mask, want }: Mask, values: ArrayLike<number>): boolean =>
  ((values[step] ?? 0) & mask) >>> 0 === want;

const repeatOf = (field: DescribedField): Step['repeat'] =>
  field.is === 'load' ? (field.repeat ?? null) : null;

/** Makes the plan of a payload whose fields fit each other (`planProblems`). */
export const planPayload = ({ endian, lengths, fields }: PlannedPayload): PayloadPlan => {
  const steps = fields.map((field): Step => ({
    field,
    width: field.width,
    isBig: (field.endian ?? endian) === 'big',
    isSigned: 'signed' in field && field.signed === true,
    at: field.at ?? null,
    when: field.when ? maskFor(fields, field.when) : null,
    repeat: repeatOf(field),
    zero: field.is === 'bits' ? maskOf(field.zero ?? []) : 0,
  }));
  const repeated = steps.findIndex((step) => step.repeat !== null);
  return {
    steps,
    lengths: lengths ? new Set(lengths) : null,
    tail: Math.max(0, ...steps.map(({ at }) => (at !== null && at < 0 ? -at : 0))),
    afterSamples:
      repeated < 0
        ? 0
        : steps
            .slice(repeated + 1)
            .reduce((sum, { at, width }) => sum + (at === null ? width : 0), 0),
  };
};
