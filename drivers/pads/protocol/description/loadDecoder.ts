import { SAMPLE_FLAGS } from '../../../../core/reading.ts';
import type { Decoded } from '../model.ts';
import type { DescribedPayload } from './descriptionSchema.ts';
import {
  COUNTS_PER_UNIT,
  createRounding,
  exactTimes,
  parseFraction,
  times,
  type Fraction,
  type LoadUnit,
} from './exactScale.ts';
import type { LoadField } from './fieldSchema.ts';
import {
  holds,
  maskFor,
  planPayload,
  type Mask,
  type PayloadPlan,
  type Step,
} from './payloadPlan.ts';
import { createWalk, readNumber, walkPayload, type Walk } from './walkPayload.ts';

/** What a load was sent as, to the last digit. */
export interface ExactLoad {
  readonly unit: LoadUnit;
  /** Decimal text where the decimal ends, else a fraction: "53.48", "1/3". */
  readonly value: string;
}

export type Weighed =
  | { readonly ok: true; readonly loads: readonly ExactLoad[]; readonly flags: number }
  | { readonly ok: false; readonly why: string };

/** A unit of the load, ready to be counted in. */
export interface ReadyUnit {
  readonly unit: LoadUnit;
  readonly when: Mask | null;
  /** One step in the unit. */
  readonly scale: Fraction;
  /** One step in counts. */
  readonly step: Fraction;
  readonly toCounts: (raw: number) => number;
}

export interface LoadDecoder {
  readonly plan: PayloadPlan;
  readonly units: readonly ReadyUnit[];
  readonly decode: (bytes: Uint8Array) => Decoded;
  readonly weigh: (bytes: Uint8Array) => Weighed;
  /** As `decode`, but what was found on the way stays to be looked at, also of a refused payload. */
  readonly look: (bytes: Uint8Array) => { readonly decoded: Decoded; readonly walk: Walk };
  /** The unit that a walk's bits pick; null where they pick none. */
  readonly unitOf: (walk: Walk) => ReadyUnit | null;
}

/** Largest count that is stored: raw counts are kept as 32-bit integers. */
const MOST_COUNTS = 0x7fffffff;

const readyUnits = (payload: DescribedPayload, load: LoadField): readonly ReadyUnit[] =>
  load.units.map(({ unit, scale, when }) => {
    const exact = parseFraction(scale ?? '1') ?? COUNTS_PER_UNIT.counts;
    const step = times(exact, COUNTS_PER_UNIT[unit]);
    return {
      unit,
      when: when ? maskFor(payload.fields, when) : null,
      scale: exact,
      step,
      toCounts: createRounding(step, 2 ** (8 * load.width)),
    };
  });

/** A number from bits, the first of them lowest. */
const numberFrom = (bits: readonly number[], value: number): number => {
  let number = 0;
  for (let k = 0; k < bits.length; k++) number |= ((value >>> (bits[k] as number)) & 1) << k;
  return number;
};

interface Status {
  readonly index: number;
  readonly bit: number;
  readonly is: number;
  readonly flag: number;
}

const statusOf = (payload: DescribedPayload): readonly Status[] =>
  payload.fields.flatMap((field, index) =>
    field.is === 'bits'
      ? (field.status ?? []).map(({ bit, is, flag }) => ({
          index,
          bit,
          is,
          flag: SAMPLE_FLAGS[flag],
        }))
      : [],
  );

const indexOf = (payload: DescribedPayload, kind: 'load' | 'sequence' | 'clock'): number =>
  payload.fields.findIndex(({ is }) => is === kind);

/**
 * Makes the decoder of a payload whose fields fit each other. It is total and allocates the packet
 * and no more: the walk's place is made once, and a decoder is not entered twice at a time.
 */
export const createLoadDecoder = (payload: DescribedPayload): LoadDecoder => {
  const plan = planPayload(payload);
  const at = indexOf(payload, 'load');
  const load = payload.fields[at];
  if (!load || load.is !== 'load')
    throw new RangeError('a payload without a load is no description');
  const loadStep = plan.steps[at] as Step;
  const units = readyUnits(payload, load);
  const sentinels = new Map((load.sentinels ?? []).map(({ value, means }) => [value, means]));
  const status = statusOf(payload);
  const sequenceAt = indexOf(payload, 'sequence');
  const clockAt = indexOf(payload, 'clock');
  const rateAt = payload.fields.findIndex((field) => field.is === 'bits' && field.rate);
  const rateField = payload.fields[rateAt];
  const rates = rateField?.is === 'bits' ? rateField.rate : undefined;
  const walk = createWalk(plan);
  const { starts, values } = walk;

  const unitOf = (of: Walk): ReadyUnit | null => {
    for (const unit of units) if (!unit.when || holds(unit.when, of.values)) return unit;
    return null;
  };

  const statusFlags = (): number => {
    let flags = 0;
    for (const { index, bit, is, flag } of status)
      if ((starts[index] as number) >= 0 && (((values[index] as number) >>> bit) & 1) === is)
        flags |= flag;
    return flags;
  };

  const decode = (bytes: Uint8Array): Decoded => {
    const why = walkPayload(plan, bytes, walk);
    if (why !== null) return { ok: false, why };
    const unit = unitOf(walk);
    if (!unit) return { ok: false, why: 'the bits that choose the unit name none' };
    let rate = payload.rate ?? null;
    if (rates && (starts[rateAt] as number) >= 0) {
      rate = rates.values[numberFrom(rates.bits, values[rateAt] as number)] ?? null;
      if (rate === null) return { ok: false, why: 'the bits that choose the rate name none' };
    }
    let flags = statusFlags();
    const first = starts[at] as number;
    const counts: number[] = [];
    for (let k = 0; k < walk.samples; k++) {
      const raw = readNumber(bytes, first + k * loadStep.width, loadStep);
      const means = sentinels.get(raw);
      if (means === 'no reading')
        return { ok: false, why: `“${load.name}” is ${raw}: the pad says that it has no reading` };
      if (means !== undefined) flags |= SAMPLE_FLAGS[means];
      const count = unit.toCounts(raw);
      if (count > MOST_COUNTS || count < -MOST_COUNTS)
        return { ok: false, why: `“${load.name}” is ${raw}: more than can be kept` };
      counts.push(count);
    }
    return {
      ok: true,
      packet: {
        sequence: sequenceAt < 0 ? null : (values[sequenceAt] as number) % 0x10000,
        clockMs: clockAt < 0 ? null : (values[clockAt] as number),
        rate,
        counts,
        flags,
      },
    };
  };

  return {
    plan,
    units,
    decode,
    unitOf,
    look: (bytes) => ({ decoded: decode(bytes), walk }),
    weigh: (bytes) => {
      const decoded = decode(bytes);
      if (!decoded.ok) return decoded;
      const unit = unitOf(walk) as ReadyUnit;
      const loads = decoded.packet.counts.map((_count, k): ExactLoad => {
        const raw = readNumber(bytes, (starts[at] as number) + k * loadStep.width, loadStep);
        return { unit: unit.unit, value: exactTimes(raw, unit.scale) };
      });
      return { ok: true, loads, flags: decoded.packet.flags };
    },
  };
};
