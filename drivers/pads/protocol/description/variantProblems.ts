import type { Condition } from './fieldSchema.ts';
import { holds, maskFor, planPayload, type PlannedPayload, type Step } from './payloadPlan.ts';
import type { Tell } from './problems.ts';

/**
 * Lays out every payload that the conditions allow, shortest and longest, and looks for bytes with
 * two meanings, two units at once and lengths that cannot be.
 */

/** Bits that conditions may ask for together: 1024 layouts to look at. */
const MOST_BITS = 10;
/** Longest value an attribute can have, bytes: Bluetooth Core, vol. 3 part F, 3.2.9. */
const LONGEST_VALUE = 512;

interface Span {
  readonly step: Step;
  readonly index: number;
  readonly from: number;
  readonly to: number;
}

const conditionsOf = ({ fields }: PlannedPayload): readonly Condition[] =>
  fields
    .flatMap((field) => [
      field.when,
      ...(field.is === 'load' ? field.units.map(({ when }) => when) : []),
    ])
    .filter((when) => when !== undefined);

/** Every value of the bits that conditions ask for, by step; bits that must be zero are. */
const valuesOf = (payload: PlannedPayload, steps: readonly Step[]): number[][] | null => {
  const asked = new Map<number, number>();
  for (const condition of conditionsOf(payload)) {
    const { step, mask } = maskFor(payload.fields, condition);
    const zero = steps[step]?.zero ?? 0;
    asked.set(step, ((asked.get(step) ?? 0) | (mask & ~zero)) >>> 0);
  }
  const bits = [...asked].flatMap(([step, mask]) =>
    Array.from({ length: 32 }, (_, bit) => ({ step, bit })).filter(({ bit }) => (mask >>> bit) & 1),
  );
  if (bits.length > MOST_BITS) return null;
  return Array.from({ length: 2 ** bits.length }, (_, code) => {
    const values = steps.map(() => 0);
    bits.forEach(({ step, bit }, k) => {
      if ((code >> k) & 1) values[step] = ((values[step] ?? 0) | (1 << bit)) >>> 0;
    });
    return values;
  });
};

const layOut = (
  steps: readonly Step[],
  tail: number,
  values: readonly number[],
  samplesOf: (repeat: NonNullable<Step['repeat']>) => number,
): { readonly spans: readonly Span[]; readonly length: number } => {
  const spans: Span[] = [];
  let cursor = 0;
  let end = 0;
  const present = steps
    .map((step, index) => ({ step, index }))
    .filter(({ step }) => !step.when || holds(step.when, values));
  for (const { step, index } of present) {
    if (step.at !== null && step.at < 0) continue;
    const from = step.at ?? cursor;
    cursor = from + step.width * (step.repeat ? samplesOf(step.repeat) : 1);
    end = Math.max(end, cursor);
    spans.push({ step, index, from, to: cursor });
  }
  const length = end + tail;
  for (const { step, index } of present)
    if (step.at !== null && step.at < 0)
      spans.push({ step, index, from: length + step.at, to: length + step.at + step.width });
  return { spans, length };
};

/** Tells what is wrong with the places of fields that are sound one by one. */
export const variantProblems = (payload: PlannedPayload, path: string, tell: Tell): void => {
  const { steps, tail, lengths } = planPayload(payload);
  const variants = valuesOf(payload, steps);
  if (!variants) {
    tell(`${path}.fields`, `ask for at most ${MOST_BITS} different bits in all conditions`);
    return;
  }
  const told = new Set<string>();
  const once: Tell = (at, what) => {
    if (told.has(at)) return;
    told.add(at);
    tell(at, what);
  };
  const found: number[] = [];
  let isShared = false;
  for (const values of variants)
    for (const bound of ['least', 'most'] as const) {
      const { spans, length } = layOut(steps, tail, values, (repeat) => repeat[bound]);
      found.push(length);
      if (length > LONGEST_VALUE)
        once(`${path}.fields`, `shorten it: ${length} bytes; a value has at most ${LONGEST_VALUE}`);
      const sorted = [...spans].sort((a, b) => a.from - b.from || a.to - b.to);
      sorted.forEach((span, k) => {
        const next = sorted[k + 1];
        if (span.from < 0 || span.to > length)
          once(`${path}.fields[${span.index}].at`, 'move it: it lies outside the payload');
        if (next && next.from < span.to && !isShared) {
          // One is enough: where one field lies wrong, those that follow it do too.
          isShared = true;
          const [first, later] = span.index < next.index ? [span, next] : [next, span];
          once(
            `${path}.fields[${later.index}]`,
            `move it: byte ${next.from} also belongs to “${first.step.field.name}”`,
          );
        }
        const { field } = span.step;
        if (field.is === 'check') {
          const from = field.from < 0 ? length + field.from : field.from;
          const to = field.to < 0 ? length + field.to : field.to;
          if (from < 0 || to > length || from >= to)
            once(`${path}.fields[${span.index}].to`, 'name at least one byte of the payload');
          else if (from < span.to && span.from < to)
            once(
              `${path}.fields[${span.index}].to`,
              'leave the check’s own bytes out of its range',
            );
        }
        if (field.is === 'load') {
          const units = field.units.filter(
            ({ when }) => !when || holds(maskFor(payload.fields, when), values),
          );
          if (units.length > 1)
            once(
              `${path}.fields[${span.index}].units`,
              `make the conditions exclude each other: ${units.map(({ unit }) => unit).join(' and ')} can be meant at once`,
            );
        }
      });
    }
  const shortest = Math.min(...found);
  if (lengths && ![...lengths].some((length) => length >= shortest))
    tell(`${path}.lengths`, `give a length of at least ${shortest}: the fields take that`);
};
