import type { Adjuster } from './adjuster.ts';

/** Parts of a turn that have a sign; the rest is counted in steps. */
const SIGNS: Readonly<Record<string, string>> = {
  '1/2': '½',
  '1/3': '⅓',
  '2/3': '⅔',
  '1/4': '¼',
  '3/4': '¾',
  '1/6': '⅙',
  '5/6': '⅚',
  '1/8': '⅛',
  '3/8': '⅜',
  '5/8': '⅝',
  '7/8': '⅞',
};

const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b));

const counted = (count: number, one: string): string => `${count} ${count === 1 ? one : `${one}s`}`;

const ONE = { flats: 'flat', clicks: 'click', shims: 'shim' } as const;

/**
 * Whole steps without their sign, as the crew counts that adjuster: "¾ turn", "1½ turns", "4 flats".
 * A part of a turn that has no sign of its own is counted in steps: "5/12 turn" is nothing a mechanic can feel.
 */
export const turnsInWords = (
  steps: number,
  { stepsPerTurn, countedIn }: Pick<Adjuster, 'stepsPerTurn' | 'countedIn'>,
): string => {
  const count = Math.abs(steps);
  if (!Number.isInteger(count)) throw new RangeError(`not whole steps: ${steps}`);
  if (countedIn !== 'turns') return counted(count, ONE[countedIn]);
  const whole = Math.floor(count / stepsPerTurn);
  const rest = count % stepsPerTurn;
  if (rest === 0) return counted(whole, 'turn');
  const by = divisor(rest, stepsPerTurn);
  const sign = SIGNS[`${rest / by}/${stepsPerTurn / by}`];
  if (sign === undefined) return counted(count, 'step');
  return whole > 0 ? `${whole}${sign} turns` : `${sign} turn`;
};
