import { ballastLimits, MUST_READ, type BallastLimit } from './ballastLimits.ts';
import { mostAt, UNSEEN, type BallastCounts, type BallastProblem } from './ballastProblem.ts';
import { createModelWriter, type IntegerModel } from './integerModel.ts';
import { reachableMasses } from './reachableMasses.ts';
import { gramsOf, STEP, stepsOf, type BallastRank } from './ballastWorth.ts';

export interface BallastModel {
  readonly model: IntegerModel;
  /** Counts of a solution of the model, rounded; the model's further columns are left out. */
  readonly counts: (solution: ArrayLike<number>) => BallastCounts;
  /** A plan as a solution of the model, to start from. */
  readonly solution: (counts: BallastCounts) => readonly number[];
  /** The rank that a bound on the cost stands for: no plan is better. */
  readonly bound: (cost: number) => BallastRank;
}

const digitsOf = (most: number): number => (most > 0 ? Math.floor(Math.log2(most)) + 1 : 0);

/**
 * The best plan as an integer programme: whole counts of each size at each place, one row for each limit, and
 * the mass rounded up to steps as one more whole number. The cost is whole: steps times one more than all
 * plates, plus plates. Steps and mass start at the least that the plates can make, which proves most plans
 * at once. Plans in `not` are excluded: counts get binary digits, and at least one digit must differ from
 * each of them.
 */
export const ballastModel = (
  problem: BallastProblem,
  not: readonly BallastCounts[] = [],
): BallastModel => {
  const { places, plates } = problem;
  const owned = plates.reduce((sum, { count }) => sum + count, 0);
  const writer = createModelWriter();
  const most = places.flatMap((place) => plates.map((size) => mostAt(place, size)));
  const grams = places.flatMap(() => plates.map(gramsOf));
  for (const own of most) writer.column({ cost: 1, most: own, isWhole: true });
  const steps = writer.column({ cost: owned + 1, most: Infinity, isWhole: true });
  writer.row([[steps, STEP], ...grams.map((own, i) => [i, -own] as const)], 0, Infinity);
  const limits = ballastLimits(problem);
  for (const limit of limits)
    writer.row(
      limit.values.map((value, i) => [i, value] as const),
      limit.low,
      limit.high,
    );
  const needed = Math.max(
    0,
    ...limits.filter(({ name }) => name === MUST_READ).map(({ low }) => low),
  );
  const least = reachableMasses(plates).all.find((made) => made.grams / 1000 >= needed - UNSEEN);
  if (least && least.grams > 0) {
    writer.row(
      grams.map((own, i) => [i, own / STEP] as const),
      least.grams / STEP,
      Infinity,
    );
    writer.row([[steps, 1]], stepsOf(least.grams), Infinity);
  }

  const digits: number[][] = [];
  if (not.length > 0)
    most.forEach((own, i) => {
      const columns = Array.from({ length: digitsOf(own) }, () =>
        writer.column({ cost: 0, most: 1, isWhole: true }),
      );
      digits.push(columns);
      if (columns.length > 0)
        writer.row([[i, 1], ...columns.map((column, k) => [column, -(2 ** k)] as const)], 0, 0);
    });
  for (const counts of not) {
    const flat = counts.flat();
    const isOn = (i: number, k: number): boolean => (((flat[i] ?? 0) >> k) & 1) === 1;
    const entries = digits.flatMap((columns, i) =>
      columns.map((column, k) => [column, isOn(i, k) ? -1 : 1] as const),
    );
    writer.row(entries, 1 - entries.filter(([, sign]) => sign < 0).length, Infinity);
  }

  return {
    model: writer.model(),
    counts: (solution) =>
      places.map((_, place) =>
        plates.map((_size, size) => Math.round(solution[place * plates.length + size] ?? 0)),
      ),
    solution: (counts) => {
      const flat = counts.flat();
      return [
        ...flat,
        stepsOf(flat.reduce((sum, count, i) => sum + count * (grams[i] as number), 0)),
        ...digits.flatMap((columns, i) => columns.map((_, k) => ((flat[i] ?? 0) >> k) & 1)),
      ];
    },
    bound: (cost) => {
      const whole = Math.max(0, Math.ceil(cost - 1e-6));
      return { steps: Math.floor(whole / (owned + 1)), plates: whole % (owned + 1) };
    },
  };
};

/** Limits taken back as far as is needed: the model, and by how much a solution takes each back. */
export interface LooseModel {
  readonly model: IntegerModel;
  readonly by: (solution: ArrayLike<number>) => readonly number[];
}

/** More plates of a size than anybody carries. */
const MANY = 1000;

/**
 * For a problem without a plan: the model in which the limits `loose` may be missed, by as little as possible
 * together, kg and plates counting alike. Where one limit alone is loose and the model has a solution, that
 * limit is in the way.
 */
export const looseModel = (
  { places, plates }: BallastProblem,
  limits: readonly BallastLimit[],
  loose: readonly BallastLimit[],
): LooseModel => {
  const writer = createModelWriter();
  for (const place of places)
    for (const { id } of plates)
      writer.column({
        cost: 0,
        most: place.takes && !place.takes.includes(id) ? 0 : MANY,
        isWhole: true,
      });
  const slacks = loose.map(() => writer.column({ cost: 1, most: Infinity, isWhole: false }));
  for (const row of limits) {
    const slack = slacks[loose.indexOf(row)];
    const give = slack === undefined ? [] : [[slack, row.low > -Infinity ? 1 : -1] as const];
    const entries = row.values.map((value, i) => [i, value] as const);
    writer.row([...entries, ...give], row.low, row.high);
  }
  return {
    model: writer.model(),
    by: (solution) => slacks.map((slack) => solution[slack] ?? 0),
  };
};
