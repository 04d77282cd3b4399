import { incompleteGamma } from '../../core/statistics/incompleteGamma.ts';
import type { Pair } from '../../core/scrutineering/pair.ts';
import { offset } from '../../core/scrutineering/offset.ts';
import { mustRead } from '../../core/scrutineering/prediction.ts';
import { createRandom, type Random } from '../../drivers/pads/rig/random.ts';
import type { Study } from './study.ts';

/** The least their scale may show, kg, and the wished chance of failing. */
const LEAST = 1300;
const WISHED = 0.01;

export interface Season {
  readonly events: number;
  /** Pairs of an event; null draws 1 to 4 for each. */
  readonly pairs: number | null;
  /** Standard deviation of an event's own bias, against 0.3 kg of a pair. */
  readonly bias: number;
}

const NO_STATE = { seatMass: null, fuelMass: null, tyres: null } as const;
const PAIR_SD = 0.3;
const SHIFT = 1.4;

const history = (season: Season, random: Random): readonly Pair[] =>
  Array.from({ length: season.events }, (_, event) => {
    const bias = SHIFT + season.bias * PAIR_SD * random.normal();
    const count = season.pairs ?? 1 + Math.floor(4 * random.uniform());
    return Array.from({ length: count }, (_unused, index): Pair => {
      const ours = 1305 + 5 * random.normal();
      return {
        id: `${event}.${index}`,
        event: `event ${event}`,
        label: `event ${event}`,
        day: null,
        ours,
        theirs: ours + bias + PAIR_SD * random.normal(),
        gravity: null,
        states: { ours: NO_STATE, theirs: NO_STATE },
      };
    });
  }).flat();

/** Probability that a normal deviate is below z. */
const normalBelow = (z: number): number => {
  const half = incompleteGamma(0.5, z ** 2 / 2) / 2;
  return z < 0 ? 0.5 - half : 0.5 + half;
};

/**
 * How often a car that was brought to just what we must read fails at the next event, before plates are
 * rounded. For each history the chance of that is known exactly, so that is averaged and no reading drawn:
 * the same mean, less noise.
 */
export const failures = (
  season: Season,
  seeds: { readonly from: number; readonly count: number },
): number => {
  let failed = 0;
  for (let seed = seeds.from; seed < seeds.from + seeds.count; seed += 1) {
    const found = offset({
      kind: 'total',
      pairs: history(season, createRandom(seed, season.events)),
      next: null,
      theirStep: null,
      followTo: null,
      poolWith: [],
    });
    if (!found.ok) throw new Error(found.why);
    const must = mustRead(found.prediction, { low: LEAST, high: null }, 1 - WISHED);
    if (!must.ok || must.low === null) throw new Error('nothing to read');
    const spread = PAIR_SD * Math.hypot(1, season.bias);
    failed += normalBelow((LEAST - must.low - SHIFT) / spread);
  }
  return failed / seeds.count;
};

/** Event biases against the scatter of a pair. */
const BIASES = [0, 0.5, 1, 2, 4];
const SEEDS = 5000;

const percent = (share: number): string => (100 * share).toFixed(2);

export const study: Study = {
  name: 'scrutineering',
  about: `failing at a wished ${100 * WISHED} %, 2 to 20 events; wanted 0.5 to 1.5 % in every line`,
  run: (share, say) => {
    const count = Math.round(SEEDS * share);
    say(`${count} seeds a figure; bias of an event over scatter of a pair: ${BIASES.join(', ')}`);
    let worst = [1, 0] as readonly [number, number];
    const line = (events: number, pairs: number | null): void => {
      const rates = BIASES.map((bias) => failures({ events, pairs, bias }, { from: 1, count }));
      worst = [Math.min(worst[0], ...rates), Math.max(worst[1], ...rates)];
      say(`${events} events of ${pairs ?? '1 to 4'}: ${rates.map(percent).join('  ')} %`);
    };
    for (let events = 2; events <= 20; events += 1) line(events, null);
    for (const pairs of [1, 2, 3, 4]) for (const events of [2, 3, 4, 6]) line(events, pairs);
    say(`least ${percent(worst[0])} %, most ${percent(worst[1])} %`);
  },
};
