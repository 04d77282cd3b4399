import { causeId, type CauseWhat } from '../../core/compare/causes/cause.ts';
import { angleBetween, causeClasses } from '../../core/compare/causes/causeClasses.ts';
import { causeList } from '../../core/compare/causes/causeList.ts';
import { causes, leastGain, type Causes } from '../../core/compare/causes/causes.ts';
import { fitOne, inner, type WhitenedCause } from '../../core/compare/causes/fit.ts';
import { independentItems, type Matrix } from '../../core/compare/independentItems.ts';
import type { Random } from '../../drivers/pads/rig/random.ts';
import { scatterOf, type RigCar } from './causesRig.ts';

/** A rig car with all that is the same for any cause planted in it. */
export interface Bench {
  readonly rig: RigCar;
  readonly covariance: Matrix;
  readonly whiten: (x: readonly number[]) => readonly number[];
  readonly classes: readonly (readonly WhitenedCause[])[];
}

/** Two records of one lowering each: the change has twice the covariance. */
export const benchOf = (rig: RigCar): Bench => {
  const covariance = scatterOf(rig).map((row) => row.map((entry) => 2 * entry));
  const { whiten } = independentItems(covariance);
  const whitened = causeList(rig.items, rig.believed).map((cause): WhitenedCause => ({
    cause,
    signature: whiten(cause.signature),
    doubt: whiten(cause.byRates.map((entry) => entry * rig.believed.rateUncertainty)),
    dof: Infinity,
  }));
  return { rig, covariance, whiten, classes: causeClasses(whitened).classes };
};

/** What is known of the scatter: all of it, unless another is given. */
interface Known {
  readonly covariance: Matrix;
  readonly dof: readonly number[];
}

export const explain = (
  { rig, covariance }: Bench,
  change: readonly number[],
  known: Known = { covariance, dof: rig.items.map(() => Infinity) },
): Causes =>
  causes({
    joint: { ids: rig.items.map(({ id }) => id), change, ...known },
    measures: Object.fromEntries(rig.items.map(({ id, measures }) => [id, measures])),
    car: rig.believed,
    ruledOut: [],
  });

export const holds = (
  members: readonly { readonly cause: { readonly what: CauseWhat } }[],
  id: string,
) => members.some(({ cause }) => causeId(cause.what) === id);

export const classOf = (bench: Bench, id: string): number =>
  bench.classes.findIndex((members) => holds(members, id));

const DRAWS = 200;

/**
 * Smallest size at which a cause beats both "nothing moved" and its nearest rival class in 95 % of seeded
 * draws, in its own unit; null where not even its largest size does.
 */
export const discriminableSize = (bench: Bench, id: string, random: Random): number | null => {
  const own = classOf(bench, id);
  const self = bench.classes[own]?.find(({ cause }) => causeId(cause.what) === id);
  if (!self) return null;
  const rivals = bench.classes
    .flatMap((members, index) => (index === own ? [] : members))
    .map((rival) => ({ rival, angle: angleBetween(self, rival) }))
    .toSorted((a, b) => a.angle - b.angle);
  const nearest = rivals[0]?.rival;
  const noises = Array.from({ length: DRAWS }, () => self.signature.map(() => random.normal()));
  const gain = leastGain(bench.classes.length, Infinity);
  const won = (size: number): number =>
    noises.filter((noise) => {
      const y = noise.map((entry, k) => entry + size * (self.signature[k] as number));
      const { misfit } = fitOne(y, self);
      return inner(y, y) - misfit > gain && (!nearest || misfit < fitOne(y, nearest).misfit);
    }).length / DRAWS;
  if (won(self.cause.most) < 0.95) return null;
  let [low, high] = [0, self.cause.most];
  for (let step = 0; step < 14; step += 1) {
    const middle = (low + high) / 2;
    if (won(middle) >= 0.95) high = middle;
    else low = middle;
  }
  return high;
};
