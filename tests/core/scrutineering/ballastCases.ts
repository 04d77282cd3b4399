import { mostAt, type BallastProblem } from '../../../core/scrutineering/ballastProblem.ts';
import type { BallastCounts } from '../../../core/scrutineering/ballastProblem.ts';
import {
  compareRank,
  worthOf,
  type BallastWorth,
} from '../../../core/scrutineering/ballastWorth.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';

/** A small problem, of which every plan can be tried. */
export const smallProblem = (seed: number): BallastProblem => {
  const random = createRandom(seed);
  const pick = (most: number): number => Math.floor(random.uniform() * (most + 1));
  const front = 0.475 + random.between(-0.004, 0.004);
  const left = 0.5 + random.between(-0.004, 0.004);
  const mass = 1290 + random.between(-8, 8);
  const widths = [0.001, 0.003, 0.006];
  const width = widths[pick(2)] as number;
  const sizes = [
    [0.5, 1.003, 2.5, 5],
    [1, 2, 5, 10],
  ][pick(1)] as readonly number[];
  return {
    car: EXAMPLE_CAR,
    loads: {
      LF: mass * front * left,
      RF: mass * front * (1 - left),
      LR: mass * (1 - front) * left,
      RR: mass * (1 - front) * (1 - left),
    },
    bars: pick(1) === 0 ? 'on' : 'off',
    total: { low: 1300 + random.between(0, 1), high: pick(3) === 0 ? 1303 : null },
    frontShare: { low: 0.475 - width, high: 0.475 + width },
    leftShare: pick(3) === 0 ? { low: null, high: null } : { low: 0.5 - width, high: 0.5 + width },
    mostBallast: pick(2) === 0 ? 20 : null,
    places: Array.from({ length: 2 + pick(1) }, (_, index) => ({
      id: `p${index}`,
      name: `place ${index}`,
      x: random.between(-2.6, 0.4),
      y: random.between(-0.7, 0.7),
      z: null,
      leastMass: null,
      mostMass: pick(1) === 0 ? 6 + pick(10) : null,
      mostPlates: pick(1) === 0 ? 1 + pick(3) : null,
      takes: pick(4) === 0 ? ['s0', 's1'] : null,
      fixing: '',
    })),
    plates: sizes.slice(1 - pick(1), 4 - pick(1)).map((own, index) => ({
      id: `s${index}`,
      name: `${own} kg`,
      mass: own,
      count: 1 + pick(3),
    })),
  };
};

/**
 * Every plan that keeps every limit, best first, by trying all counts. The limits are written here a second
 * time, in ratios and masses; of the product only the definition of rank is used. How a mass is shared by
 * front and rear, left and right is by moments alone, so tracks must be alike: `equalTracks`.
 */
export const everyPlan = (
  problem: BallastProblem,
): readonly { readonly counts: BallastCounts; readonly worth: BallastWorth }[] => {
  const { places, plates, loads, car } = problem;
  const most = places.flatMap((place) => plates.map((size) => mostAt(place, size)));
  const found: { counts: BallastCounts; worth: BallastWorth }[] = [];
  const flat = most.map(() => 0);
  const inside = (value: number, low: number | null, high: number | null, slack: number): boolean =>
    (low === null || value >= low - slack) && (high === null || value <= high + slack);
  const keep = (): void => {
    const counts = places.map((_, p) => flat.slice(p * plates.length, (p + 1) * plates.length));
    const masses = counts.map((own) => own.reduce((sum, n, s) => sum + n * plates[s]!.mass, 0));
    const ballast = masses.reduce((sum, own) => sum + own, 0);
    const total = loads.LF + loads.RF + loads.LR + loads.RR + ballast;
    const front =
      loads.LF +
      loads.RF +
      masses.reduce((sum, own, p) => sum + own * (1 + places[p]!.x / car.wheelbase), 0);
    const leftLoad =
      loads.LF +
      loads.LR +
      masses.reduce((sum, own, p) => sum + own * (0.5 + places[p]!.y / car.trackFront), 0);
    const isKept =
      inside(total, problem.total.low, problem.total.high, 1e-6) &&
      inside(front / total, problem.frontShare.low, problem.frontShare.high, 1e-9) &&
      inside(leftLoad / total, problem.leftShare.low, problem.leftShare.high, 1e-9) &&
      ballast <= (problem.mostBallast ?? Infinity) + 1e-6 &&
      places.every(
        ({ mostMass, mostPlates }, p) =>
          masses[p]! <= (mostMass ?? Infinity) + 1e-6 &&
          counts[p]!.reduce((sum, n) => sum + n, 0) <= (mostPlates ?? Infinity),
      );
    if (isKept) found.push({ counts, worth: worthOf(problem, counts) });
  };
  const left = plates.map(({ count }) => count);
  const go = (at: number): void => {
    if (at === flat.length) return keep();
    const size = at % plates.length;
    const room = Math.min(most[at]!, left[size]!);
    for (let n = 0; n <= room; n += 1) {
      flat[at] = n;
      left[size]! -= n;
      go(at + 1);
      left[size]! += n;
    }
    flat[at] = 0;
  };
  go(0);
  return found.toSorted((a, b) => compareRank(a.worth, b.worth));
};

/** The same problem on a car with both tracks alike. */
export const equalTracks = (problem: BallastProblem): BallastProblem => ({
  ...problem,
  car: { ...problem.car, trackRear: problem.car.trackFront },
});
