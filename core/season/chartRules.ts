import type { TimedValue } from './unevenEwmaChart.ts';

/**
 * Out-of-control rules for a chart of single values or means, each with its source:
 * WE is Western Electric Company, Statistical Quality Control Handbook (1956), section I-B, zone
 * tests; Nelson is L. S. Nelson, J. Quality Technology 16 (1984) 237.
 */
export const CHART_RULES = {
  beyondThree: { source: 'WE 1, Nelson 1', meaning: 'one value beyond three sigma' },
  twoOfThree: {
    source: 'WE 2, Nelson 5',
    meaning: 'two of three in a row beyond two sigma on one side',
  },
  fourOfFive: {
    source: 'WE 3, Nelson 6',
    meaning: 'four of five in a row beyond one sigma on one side',
  },
  eightOnOneSide: { source: 'WE 4', meaning: 'eight in a row on one side of the centre' },
  sixOneWay: { source: 'Nelson 3', meaning: 'six in a row rising, or falling' },
  fourteenAlternating: {
    source: 'Nelson 4',
    meaning: 'fourteen in a row up and down in turn: two things are being mixed',
  },
  fifteenWithinOne: {
    source: 'Nelson 7',
    meaning: 'fifteen in a row within one sigma: the limits are too wide, or the value is stuck',
  },
} as const satisfies Record<string, { source: string; meaning: string }>;

export type ChartRule = keyof typeof CHART_RULES;

/** The four zone tests: together one false signal in 92 values, alone the first one in 370. */
export const ZONE_RULES: readonly ChartRule[] = [
  'beyondThree',
  'twoOfThree',
  'fourOfFive',
  'eightOnOneSide',
];

export interface ChartSignal {
  readonly rule: ChartRule;
  /** Positions of the first value of the pattern and of the one that completes it. */
  readonly from: number;
  readonly to: number;
  readonly side: 'above' | 'below' | 'both';
}

export interface RuleOptions {
  readonly centre: number;
  readonly sigma: number;
  readonly rules: readonly ChartRule[];
  /** A pattern does not reach over a gap longer than this, seconds; Infinity for values in order only. */
  readonly longestGap: number;
}

/** A count of values, beyond so many sigma on one side, out of a row of them. */
const ZONES = [
  { rule: 'beyondThree', row: 1, least: 1, beyond: 3 },
  { rule: 'twoOfThree', row: 3, least: 2, beyond: 2 },
  { rule: 'fourOfFive', row: 5, least: 4, beyond: 1 },
  { rule: 'eightOnOneSide', row: 8, least: 8, beyond: 0 },
] as const;

/** The value that completes a pattern must itself be part of it, so that each signals once. */
const zoneSignal = (
  z: readonly number[],
  at: number,
  zone: (typeof ZONES)[number],
): Omit<ChartSignal, 'rule'> | null => {
  for (const side of ['above', 'below'] as const) {
    const beyond = (i: number): boolean =>
      (side === 'above' ? 1 : -1) * (z[i] as number) > zone.beyond;
    if (!beyond(at)) continue;
    let first = at;
    let count = 0;
    for (let i = at; i >= Math.max(0, at - zone.row + 1); i -= 1)
      if (beyond(i)) {
        count += 1;
        first = i;
      }
    if (count >= zone.least) return { from: first, to: at, side };
  }
  return null;
};

/** Number of values, ending with this one, for which each step passes a test against the next. */
const lengthOf = (at: number, holds: (i: number) => boolean): number => {
  let i = at;
  while (i > 0 && holds(i)) i -= 1;
  return at - i + 1;
};

const runSignal = (
  z: readonly number[],
  at: number,
  rule: ChartRule,
): Omit<ChartSignal, 'rule'> | null => {
  const step = (i: number): number => (z[i] as number) - (z[i - 1] as number);
  if (rule === 'sixOneWay') {
    const rising = lengthOf(at, (i) => step(i) > 0);
    if (rising >= 6) return { from: at - 5, to: at, side: 'above' };
    const falling = lengthOf(at, (i) => step(i) < 0);
    return falling >= 6 ? { from: at - 5, to: at, side: 'below' } : null;
  }
  if (rule === 'fourteenAlternating') {
    const turns = lengthOf(at, (i) => (i === at ? step(i) !== 0 : step(i) * step(i + 1) < 0));
    return turns >= 14 ? { from: at - 13, to: at, side: 'both' } : null;
  }
  if (rule === 'fifteenWithinOne') {
    const near = (i: number): boolean => Math.abs(z[i] as number) < 1;
    const within = near(at) ? lengthOf(at, (i) => near(i - 1)) : 0;
    return within >= 15 ? { from: at - 14, to: at, side: 'both' } : null;
  }
  return null;
};

/**
 * Every completion of a pattern, in order of the values. A pattern that goes on signals again with
 * every further value. Throws RangeError for a sigma that is not above zero.
 */
export const chartSignals = (
  values: readonly TimedValue[],
  { centre, sigma, rules, longestGap }: RuleOptions,
): readonly ChartSignal[] => {
  if (!(sigma > 0) || sigma === Infinity)
    throw new RangeError(`no rules without scatter: ${sigma}`);
  const signals: ChartSignal[] = [];
  let start = 0;
  let z: number[] = [];
  for (const [index, { at, value }] of values.entries()) {
    const before = values[index - 1];
    if (before && at - before.at > longestGap) {
      start = index;
      z = [];
    }
    z.push((value - centre) / sigma);
    for (const rule of rules) {
      const zone = ZONES.find((each) => each.rule === rule);
      const found = zone ? zoneSignal(z, index - start, zone) : runSignal(z, index - start, rule);
      if (found) signals.push({ ...found, rule, from: start + found.from, to: start + found.to });
    }
  }
  return signals;
};
