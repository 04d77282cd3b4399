import type { Adjuster } from './adjuster.ts';

/** Turns as people say them: with the sign of a fraction for the screen, in words for a voice. */
export interface TurnsInWords {
  /** "¾ turn", "1½ turns", "4 flats". */
  readonly shown: string;
  /** "three quarters of a turn", "one and a half turns", "four flats". */
  readonly spoken: string;
}

/** Parts of a turn that have a sign and a name; the rest is counted in steps. */
const PARTS: Readonly<Record<string, readonly [sign: string, name: string]>> = {
  '1/2': ['½', 'a half'],
  '1/3': ['⅓', 'a third'],
  '2/3': ['⅔', 'two thirds'],
  '1/4': ['¼', 'a quarter'],
  '3/4': ['¾', 'three quarters'],
  '1/6': ['⅙', 'a sixth'],
  '5/6': ['⅚', 'five sixths'],
  '1/8': ['⅛', 'an eighth'],
  '3/8': ['⅜', 'three eighths'],
  '5/8': ['⅝', 'five eighths'],
  '7/8': ['⅞', 'seven eighths'],
};

const NUMBERS = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
] as const;
const spokenNumber = (count: number): string => NUMBERS[count] ?? String(count);

const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b));

const counted = (count: number, one: string): TurnsInWords => {
  const name = count === 1 ? one : `${one}s`;
  return { shown: `${count} ${name}`, spoken: `${spokenNumber(count)} ${name}` };
};

const ONE = { flats: 'flat', clicks: 'click', shims: 'shim' } as const;

/**
 * Whole steps without their sign, as the crew counts that adjuster. A part of a turn that has no
 * name of its own is counted in steps: "5/12 turn" is nothing a mechanic can feel.
 */
export const turnsInWords = (
  steps: number,
  { stepsPerTurn, countedIn }: Pick<Adjuster, 'stepsPerTurn' | 'countedIn'>,
): TurnsInWords => {
  const count = Math.abs(steps);
  if (!Number.isInteger(count)) throw new RangeError(`not whole steps: ${steps}`);
  if (countedIn !== 'turns') return counted(count, ONE[countedIn]);
  const whole = Math.floor(count / stepsPerTurn);
  const rest = count % stepsPerTurn;
  if (rest === 0) return counted(whole, 'turn');
  const by = divisor(rest, stepsPerTurn);
  const part = PARTS[`${rest / by}/${stepsPerTurn / by}`];
  if (!part) return counted(count, 'step');
  const [sign, name] = part;
  if (whole > 0)
    return {
      shown: `${whole}${sign} turns`,
      spoken: `${spokenNumber(whole)} and ${name} turns`,
    };
  return { shown: `${sign} turn`, spoken: sign === '½' ? 'half a turn' : `${name} of a turn` };
};
