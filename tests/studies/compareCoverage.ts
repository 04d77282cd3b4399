import { compareItems, type Comparison } from '../../core/compare/compareItems.ts';
import type { ChangeNoise } from '../../core/compare/changeNoise.ts';
import type { Matrix } from '../../core/compare/independentItems.ts';
import { createRandom, type Random } from '../../drivers/pads/rig/random.ts';
import type { Study } from './study.ts';

/**
 * Two records of the invented car's four corner weights and sixteen items measured by hand, with total
 * and shares derived. Weights scatter along the warp (friction) and each by itself; the comparison knows
 * all this from a study of finite length only, drawn anew for each car.
 */

const WEIGHTS = [312.411, 307.464, 344.789, 340.336] as const;
const WARP = [1, -1, -1.68 / 1.65, 1.68 / 1.65] as const;
const [ALONG, OWN, BY_HAND, RELAID] = [0.25, 0.06, 1, 0.4] as const;
const HANDS = 16;
const COUNT = WEIGHTS.length + HANDS;
const TOTAL = WEIGHTS.reduce((sum, weight) => sum + weight, 0);

const record = (random: Random, laying: number): number[] => {
  const warp = ALONG * random.normal() + laying;
  return Array.from({ length: COUNT }, (_, i) =>
    i < 4 ? (WARP[i] as number) * warp + OWN * random.normal() : BY_HAND * random.normal(),
  );
};

/** Covariance found from so many more unchanged records than one: weights together, hands apart. */
const studied = (random: Random, dof: number): Matrix => {
  const records = Array.from({ length: dof + 1 }, () => record(random, 0));
  const means = Array.from(
    { length: COUNT },
    (_, i) => records.reduce((sum, each) => sum + (each[i] as number), 0) / records.length,
  );
  return means.map((mean, i) =>
    means.map((other, j) =>
      i !== j && Math.max(i, j) >= 4
        ? 0
        : records.reduce(
            (sum, each) => sum + ((each[i] as number) - mean) * ((each[j] as number) - other),
            0,
          ) / dof,
    ),
  );
};

/** Scatter of layings along the warp, found with few degrees of freedom. */
const relaying = (random: Random, dof: number): Matrix => {
  let squares = 0;
  for (let k = 0; k < dof; k += 1) squares += random.normal() ** 2;
  const variance = (RELAID ** 2 * squares) / dof;
  return Array.from({ length: COUNT }, (_, i) =>
    Array.from({ length: COUNT }, (_unused, j) =>
      i < 4 && j < 4 ? (WARP[i] as number) * (WARP[j] as number) * variance : 0,
    ),
  );
};

const SUMS = [
  ['total', [1, 1, 1, 1]],
  ['front', [1, 1, 0, 0]],
  ['left', [1, 0, 1, 0]],
  ['cross', [0, 1, 1, 0]],
] as const;

const HANDS_OFF = new Array<number>(HANDS).fill(0);

export interface Case {
  readonly dof: number;
  readonly readings: number;
  readonly isRelaid: boolean;
}

/** What the car does in truth: the change of each item and the limit it is asked for. */
export interface Truth {
  readonly change: readonly number[];
  readonly limits: readonly (number | null)[];
}

export const compareOnce = (seed: number, about: Case, truth: Truth): Comparison => {
  const random = createRandom(seed, 71);
  const known = Math.max(2, Math.round(about.dof / 3));
  const noise: ChangeNoise = {
    repeat: {
      covariance: studied(random, about.dof),
      dof: new Array<number>(COUNT).fill(about.dof),
    },
    laying: about.isRelaid
      ? { covariance: relaying(random, known), dof: new Array<number>(COUNT).fill(known) }
      : null,
    unshared: null,
    readings: Array.from({ length: COUNT }, () => ({
      before: about.readings,
      after: about.readings,
    })),
  };
  const mean = (): number[] => {
    const laying = about.isRelaid ? RELAID * random.normal() : 0;
    const all = Array.from({ length: about.readings }, () => record(random, laying));
    return Array.from(
      { length: COUNT },
      (_, i) => all.reduce((sum, each) => sum + (each[i] as number), 0) / all.length,
    );
  };
  const base = Array.from({ length: COUNT }, (_, i) => WEIGHTS[i] ?? 0);
  const before = mean().map((value, i) => value + (base[i] as number));
  const after = mean().map((value, i) => value + (base[i] as number) + (truth.change[i] ?? 0));
  const sums = (values: readonly number[], over: readonly number[]): number =>
    over.reduce((sum, each, i) => sum + each * (values[i] as number), 0);
  const total = (values: readonly number[]): number => sums(values, [1, 1, 1, 1]);
  return compareItems({
    items: before.map((value, i) => ({
      id: `item ${i}`,
      before: value,
      after: after[i] as number,
      limit: truth.limits[i] ?? null,
    })),
    derived: SUMS.map(([id, over]) => {
      const isTotal = id === 'total';
      const value = (values: readonly number[]): number =>
        isTotal ? total(values) : sums(values, over) / total(values);
      const share = sums(WEIGHTS, over) / TOTAL;
      const slopes = over.map((each) => (isTotal ? each : (each - share) / TOTAL));
      return {
        id,
        before: value(before),
        after: value(after),
        limit: null,
        slopes: [...slopes, ...HANDS_OFF],
      };
    }),
    noise,
    known: [],
    states: [],
  });
};

const NOTHING: Truth = { change: [], limits: [] };

export interface Rates {
  /** 90 % intervals of the change that held the truth, per item. */
  readonly coverage: number;
  /** Unchanged cars with any independent item called moved, and with any item at all. */
  readonly familyFalse: number;
  readonly anyFalse: number;
  /** Unchanged items found same at the finest limit. */
  readonly sameAtFinest: number;
  /** Items changed by just their limit that were called same. */
  readonly sameAtLimit: number;
  /** Three items moved for certain: another independent one called moved. */
  readonly othersFalse: number;
}

export const rates = (about: Case, cars: number): Rates => {
  const u = Math.sqrt(2 / about.readings) * BY_HAND;
  let [held, judged, family, any, same, atLimit, tested, others] = [0, 0, 0, 0, 0, 0, 0, 0];
  // By hand: every other item changed by just the limit asked for, which is well above the finest.
  const limit = 5 * u;
  const hands = (value: (index: number) => number | null): (number | null)[] => [
    ...WEIGHTS.map(() => null),
    ...Array.from({ length: HANDS }, (_, index) => value(index)),
  ];
  const atEdge: Truth = {
    change: hands((index) => (index % 2 === 0 ? limit : -limit)).map((value) => value ?? 0),
    limits: hands(() => limit),
  };
  const threeMoved: Truth = {
    change: hands((index) => (index < 3 ? 40 * u : 0)).map((v) => v ?? 0),
    limits: [],
  };
  for (let seed = 1; seed <= cars; seed += 1) {
    const still = compareOnce(seed, about, NOTHING);
    for (const { interval, verdict } of still.items) {
      judged += 1;
      if (interval[0] <= 0 && interval[1] >= 0) held += 1;
      if (verdict === 'same') same += 1;
    }
    const moved = still.items.filter(({ verdict }) => verdict === 'moved');
    if (moved.some(({ independent }) => independent)) family += 1;
    if (moved.length > 0) any += 1;
    for (const item of compareOnce(seed + cars, about, atEdge).items.slice(4, COUNT)) {
      // Where the study came out so coarse that the limit was raised, the question is another.
      if (item.limit > limit) continue;
      tested += 1;
      if (item.verdict === 'same') atLimit += 1;
    }
    const three = compareOnce(seed + 2 * cars, about, threeMoved).items;
    if (
      three.some(
        ({ id, verdict, independent }) =>
          independent && verdict === 'moved' && !['item 4', 'item 5', 'item 6'].includes(id),
      )
    )
      others += 1;
  }
  return {
    coverage: held / judged,
    familyFalse: family / cars,
    anyFalse: any / cars,
    sameAtFinest: same / judged,
    sameAtLimit: atLimit / tested,
    othersFalse: others / cars,
  };
};

export const CASES: readonly Case[] = [
  { dof: 5, readings: 1, isRelaid: false },
  { dof: 15, readings: 1, isRelaid: false },
  { dof: 15, readings: 3, isRelaid: false },
  { dof: 15, readings: 1, isRelaid: true },
  { dof: 60, readings: 2, isRelaid: true },
];

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;

export const study: Study = {
  name: 'compareCoverage',
  about: 'how often intervals hold the truth, and how often same and moved are said falsely',
  run: (share, say) => {
    for (const about of CASES) {
      const found = rates(about, Math.ceil(2000 * share));
      say(
        `${about.dof} degrees of freedom, ${about.readings} readings, patch ${about.isRelaid ? 'relaid' : 'left'}:`,
      );
      say(`  90 % intervals hold ${percent(found.coverage)}`);
      say(
        `  unchanged car called moved, independent items ${percent(found.familyFalse)}, derived ones too ${percent(found.anyFalse)} (at most 5 % for the independent ones)`,
      );
      say(`  three moved, another called moved ${percent(found.othersFalse)} (at most 5 %)`);
      say(`  changed by the limit, called same ${percent(found.sameAtLimit)} (at most 5 %)`);
      say(`  unchanged, same at the finest limit ${percent(found.sameAtFinest)} (about 80 %)`);
    }
  },
};
