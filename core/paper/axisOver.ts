import { fixed } from '../format/number.ts';
import type { PaperAxis } from './paperDocument.ts';

/** So many ticks at the least, or twice as many; common practice, no source. */
const FEWEST_STEPS = 4;

/**
 * An axis that holds all the values and zero, with ticks at whole multiples of 1, 2 or 5 times a power of
 * ten. Values that are all zero get an axis of ±1.
 */
export const axisOver = (label: string, values: readonly number[]): PaperAxis => {
  const least = Math.min(0, ...values);
  const most = Math.max(0, ...values);
  if (!Number.isFinite(most - least)) throw new RangeError(`no axis over these values: ${label}`);
  if (most === least) return axisOver(label, [-1, 1]);
  const wanted = (most - least) / FEWEST_STEPS;
  const power = Math.floor(Math.log10(wanted));
  const digit = [5, 2, 1].find((each) => each * 10 ** power <= wanted) ?? 1;
  const step = Number(`${digit}e${power}`);
  const [first, last] = [Math.floor(least / step), Math.ceil(most / step)];
  return {
    label,
    from: first * step,
    to: last * step,
    ticks: Array.from({ length: last - first + 1 }, (_, index) => {
      const at = (first + index) * step;
      return { at, text: fixed(at, Math.max(0, -power)) };
    }),
  };
};
