import type { CheckField, OtherField } from './fieldSchema.ts';
import { holds, type PayloadPlan, type Step } from './payloadPlan.ts';

/**
 * Walks one payload by its plan: where each field is, what number stands there, and whether the
 * layout allows it. Total: any bytes give a walk or the reason why not, never a throw.
 */

/** Where a walk puts what it found; made once and used again. */
export interface Walk {
  /** First byte of each step; −1 where it is absent or was not reached. */
  readonly starts: Int32Array;
  /** The number of each step; of the first sample where it repeats. */
  readonly values: Float64Array;
  samples: number;
}

export const createWalk = (plan: PayloadPlan): Walk => ({
  starts: new Int32Array(plan.steps.length).fill(-1),
  values: new Float64Array(plan.steps.length),
  samples: 0,
});

/** Reads 1 to 4 bytes as a number. They must be there. */
export const readNumber = (
  bytes: Uint8Array,
  from: number,
  { width, isBig, isSigned }: Pick<Step, 'width' | 'isBig' | 'isSigned'>,
): number => {
  let value = 0;
  if (isBig) for (let k = 0; k < width; k++) value = value * 256 + (bytes[from + k] as number);
  else for (let k = width - 1; k >= 0; k--) value = value * 256 + (bytes[from + k] as number);
  const half = 2 ** (8 * width - 1);
  return isSigned && value >= half ? value - 2 * half : value;
};

/** Finds and reads every field; the reason where the length does not allow it. */
const locate = (plan: PayloadPlan, bytes: Uint8Array, walk: Walk): string | null => {
  const { steps, lengths, tail, afterSamples } = plan;
  const { starts, values } = walk;
  const { length } = bytes;
  if (lengths && !lengths.has(length))
    return `${length} bytes; ${[...lengths].join(', ')} were expected`;
  let cursor = 0;
  let end = 0;
  for (let index = 0; index < steps.length; index++) {
    const step = steps[index] as Step;
    if (step.when && !holds(step.when, values)) continue;
    const { at, width, repeat } = step;
    const start = at === null ? cursor : at < 0 ? length + at : at;
    let size = width;
    if (repeat) {
      const samples = (length - tail - afterSamples - start) / width;
      if (!(Number.isInteger(samples) && samples >= repeat.least && samples <= repeat.most))
        return `${length} bytes; they hold no whole number of ${repeat.least} to ${repeat.most} samples`;
      walk.samples = samples;
      size = width * samples;
    }
    const limit = at !== null && at < 0 ? length : length - tail;
    if (start < 0 || start + size > limit)
      return `${length} bytes; too few for “${step.field.name}”`;
    starts[index] = start;
    if (width <= 4) values[index] = readNumber(bytes, start, step);
    cursor = start + size;
    if (at === null || at >= 0) end = Math.max(end, cursor);
  }
  if (!lengths && end + tail !== length) return `${length} bytes; the fields take ${end + tail}`;
  return null;
};

/** The check number over the bytes that its field names; −1 where they are not there. */
const checkOver = (field: CheckField, bytes: Uint8Array): number => {
  const { length } = bytes;
  const from = field.from < 0 ? length + field.from : field.from;
  const to = field.to < 0 ? length + field.to : field.to;
  if (from < 0 || to > length || from >= to) return -1;
  const modulus = field.width === 1 ? 0x100 : 0x10000;
  let result = 0;
  for (let at = from; at < to; at++) {
    const byte = bytes[at] as number;
    result = field.method === 'xor' ? result ^ byte : (result + byte) % modulus;
  }
  if (field.negated) result = (modulus - result) % modulus;
  return result ^ field.xor;
};

const isAllowed = ({ allowed }: OtherField, value: number): boolean =>
  !allowed || allowed.some(([low, high]) => value >= low && value <= high);

const hex = (value: number, width: number): string =>
  `0x${value.toString(16).padStart(2 * width, '0')}`;

/** What is wrong with the number of a step; null where the layout allows it. */
const verify = (step: Step, value: number, bytes: Uint8Array): string | null => {
  const { field, width } = step;
  switch (field.is) {
    case 'bits':
      return (value & step.zero) === 0 ? null : `bits of “${field.name}” that must be zero are set`;
    case 'constant':
      return value === field.value
        ? null
        : `“${field.name}” is ${hex(value, width)}; ${hex(field.value, width)} was expected`;
    case 'check': {
      const wanted = checkOver(field, bytes);
      return value === wanted
        ? null
        : `the check “${field.name}” is ${hex(value, width)}; the bytes give ${wanted < 0 ? 'none' : hex(wanted, width)}`;
    }
    case 'other':
      return isAllowed(field, value) ? null : `“${field.name}” cannot be ${value}`;
    default:
      return null;
  }
};

/** Walks a payload into `walk`; null where the layout allows it, else the reason in one line. */
export const walkPayload = (plan: PayloadPlan, bytes: Uint8Array, walk: Walk): string | null => {
  walk.starts.fill(-1);
  walk.samples = 1;
  const why = locate(plan, bytes, walk);
  if (why !== null) return why;
  for (let index = 0; index < plan.steps.length; index++) {
    if ((walk.starts[index] as number) < 0) continue;
    const wrong = verify(plan.steps[index] as Step, walk.values[index] as number, bytes);
    if (wrong !== null) return wrong;
  }
  return null;
};
