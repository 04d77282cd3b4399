/**
 * Time to a settled reading: `npm run bench:settle -- [drops a cell]`. The example car as three modes
 * (heave at the stated frequency, pitch and roll at 1.2 and 1.4 times that), let go at once on pads that
 * stood empty, 80 samples a second and pad, white noise. How long until all four loads are within ±0.2 kg
 * by their own 95 % intervals: *waiting* (windows of `SETTLE_DEFAULTS`), *early* (looked at 20 times a
 * second), and the Cramér–Rao bound of the same problem. Medians over the drops; beside them how often a
 * reading at that moment was off by more than 0.2 kg.
 *
 * Aims: early at most 1.5 times the bound's time up to 50 g; at least twice as soon as waiting at damping
 * 0.3 and 5 g; never later than waiting; nothing special at and above critical damping, nor where friction
 * stops the car on its way (times from there).
 */
import { cpus, loadavg } from 'node:os';
import { SETTLE_DEFAULTS } from '../../core/signal/settleOptions.ts';
import { boundTime, WANTED } from '../studies/boundTime.ts';
import { droppedCar } from '../studies/modalCar.ts';
import { dropOnce, LOOKS, RATE, type Drop } from '../studies/timeToSettled.ts';

const DROPS = Number(process.argv[2] ?? 21);
const HERTZ = [2, 3, 4, 5];
const DAMPINGS = [0.3, 0.5, 0.7, 0.9];
const GRAMS = [5, 50, 300];
const NEWTON_PER_GRAM = 9.80665e-3;
/** Seconds of motion before a car sticks: about half a period at 2 Hz and whole ones at 5 Hz. */
const STICKS_AFTER = 0.33;

const costs: number[] = [];
const median = (values: readonly (number | null)[]): number =>
  values.map((value) => value ?? Infinity).toSorted((a, b) => a - b)[values.length >> 1] ?? NaN;
const seconds = (value: number): string => value.toFixed(2).padStart(6);
const off = (errors: readonly number[]): string =>
  `${errors.filter((error) => error > WANTED).length}/${errors.length}`;

interface Cell {
  readonly hertz: number;
  readonly damping: number;
  readonly grams: number;
}
interface Found extends Cell {
  /** NaN where it does not apply. */
  readonly bound: number;
  readonly early: number;
  readonly waiting: number;
  readonly later: number;
}

const measure = (cell: Cell, sticksAfter?: number): Found => {
  const { hertz, damping, grams } = cell;
  const car = droppedCar(hertz, damping);
  const noise = grams * NEWTON_PER_GRAM;
  const bound = sticksAfter === undefined ? boundTime(car, { rate: RATE, noise }) : NaN;
  const drops: readonly Drop[] = Array.from({ length: DROPS }, (_, index) =>
    dropOnce(car, {
      noise,
      seed: 1000 * index + Math.round(100 * hertz + 10 * damping + grams),
      ...(sticksAfter === undefined ? {} : { sticksAfter }),
    }),
  );
  for (const drop of drops) costs.push(...drop.costs);
  const early = median(drops.map((drop) => drop.early));
  const waiting = median(drops.map((drop) => drop.waiting));
  const later = drops.filter(
    (drop) => (drop.early ?? Infinity) > (drop.waiting ?? Infinity),
  ).length;
  const ofBound = Number.isNaN(bound)
    ? ''
    : `bound ${seconds(bound)} (early x${(early / bound).toFixed(2)})`;
  console.log(
    `${String(grams).padStart(4)} g ${hertz.toFixed(1)} Hz ${damping.toFixed(2)}: ` +
      `early ${seconds(early)} (off ${off(drops.map((drop) => drop.earlyError))})  ` +
      `waiting ${seconds(waiting)} (off ${off(drops.map((drop) => drop.waitingError))})  ` +
      `waiting/early ${(waiting / early).toFixed(1)}  ${ofBound}`,
  );
  return { ...cell, bound, early, waiting, later };
};

const cellsOf = (hertz: readonly number[], dampings: readonly number[]): readonly Cell[] =>
  GRAMS.flatMap((grams) =>
    hertz.flatMap((each) => dampings.map((damping) => ({ hertz: each, damping, grams }))),
  );

console.log(
  `${cpus()[0]?.model ?? 'unknown processor'}, load ${loadavg()[0]?.toFixed(2)}, node ${process.version}; ` +
    `${DROPS} drops a cell, ${LOOKS} looks a second; waiting: window ${SETTLE_DEFAULTS.window} s, ` +
    `longer ${SETTLE_DEFAULTS.longer.join(' and ')} s`,
);
const cells = cellsOf(HERTZ, DAMPINGS).map((cell) => measure(cell));
console.log('heave at and above critical damping:');
const critical = cellsOf([3, 5], [1, 1.2]).map((cell) => measure(cell));
console.log(`sticks ${STICKS_AFTER} s after it was let go, times from there:`);
const stuck = cellsOf([2, 5], [0.3]).map((cell) => measure(cell, STICKS_AFTER));

const aim = (what: string, worst: number, met: boolean): void =>
  console.log(`${what}: worst ${worst.toFixed(2)}, ${met ? 'met' : 'MISSED'}`);
const ratios = (found: readonly Found[]): readonly number[] =>
  found.filter(({ grams }) => grams <= 50).map(({ early, bound }) => early / bound);
const worst = Math.max(...ratios(cells));
aim('early over the bound up to 50 g (1.5)', worst, worst <= 1.5);
console.log(`  at and above critical damping: worst ${Math.max(...ratios(critical)).toFixed(2)}`);
const sooner = cells
  .filter(({ grams, damping }) => grams === 5 && damping === 0.3)
  .map(({ waiting, early }) => waiting / early);
aim('waiting over early, damping 0.3, 5 g (2)', Math.min(...sooner), Math.min(...sooner) >= 2);
const all = [...cells, ...critical, ...stuck];
aim(
  'early over waiting, medians (1)',
  Math.max(...all.map(({ early, waiting }) => early / waiting)),
  all.every(({ early, waiting }) => early <= waiting),
);
console.log(
  `  single drops in which early was the later one: ${all.reduce((sum, { later }) => sum + later, 0)} of ${all.length * DROPS}`,
);
costs.sort((a, b) => a - b);
const cost = (share: number): string =>
  (costs[Math.floor(share * (costs.length - 1))] as number).toFixed(2);
console.log(
  `a look: ${cost(0.5)} ms (median), ${cost(0.99)} (99 %), ${cost(1)} (longest of ${costs.length})`,
);
