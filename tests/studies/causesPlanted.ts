import { causeId, type CauseKind, type CauseWhat } from '../../core/compare/causes/cause.ts';
import type { Causes } from '../../core/compare/causes/causes.ts';
import { inner } from '../../core/compare/causes/fit.ts';
import { createRandom } from '../../drivers/pads/rig/random.ts';
import { benchOf, classOf, discriminableSize, explain, holds, type Bench } from './causesBench.ts';
import { changeBetween, drawCause, plant, readOnce } from './causesPlant.ts';
import { rigCar, type RigCar } from './causesRig.ts';

export interface Tally {
  held: number;
  of: number;
}

export interface Found {
  readonly above: Tally;
  readonly below: Tally;
  readonly unchanged: Tally;
  /** Planted kind against the kind of what came first, above the discriminable size. */
  readonly confusion: Map<string, Map<string, number>>;
  /** Discriminable sizes by kind; null where none is. */
  readonly sizes: Map<CauseKind, (number | null)[]>;
  /** Classes tied when the answer is below the size. */
  readonly tied: number[];
}

const add = (tally: Tally, held: boolean): void => {
  tally.of += 1;
  if (held) tally.held += 1;
};

/** What an answer puts first, in one word. */
const firstOf = ({ answer, classes }: Causes, id: string): string => {
  if (answer !== 'single cause') return answer;
  const members = classes[0]?.members ?? [];
  return holds(members, id) ? 'right' : (members[0]?.cause.what.kind ?? 'none');
};

/**
 * Unchanged cars whose scatter the crew knows from so many more lowerings than one, weights together and
 * hand items each by themselves: how often "nothing moved".
 */
export const studiedUnchanged = (cars: number, dof: number): Tally => {
  const tally = { held: 0, of: 0 };
  for (let seed = 1; seed <= cars; seed += 1) {
    const random = createRandom(seed, 64);
    const bench = benchOf(rigCar(random, 'all'));
    const { rig } = bench;
    const records = Array.from({ length: dof + 1 }, () => readOnce(rig, rig.truth, random));
    const means = rig.items.map(
      (_, k) => records.reduce((sum, each) => sum + (each[k] as number), 0) / records.length,
    );
    const isWeight = (k: number): boolean => rig.items[k]?.measures.what === 'corner weight';
    const covariance = means.map((mean, i) =>
      means.map((other, j) =>
        i === j || (isWeight(i) && isWeight(j))
          ? records.reduce(
              (sum, each) => sum + ((each[i] as number) - mean) * ((each[j] as number) - other),
              0,
            ) *
            (2 / dof)
          : 0,
      ),
    );
    const known = rig.items.map((_, k) => (isWeight(k) ? dof - 3 : dof));
    const change = changeBetween(rig, [], rig.truth, random);
    add(tally, explain(bench, change, { covariance, dof: known }).answer === 'nothing moved');
  }
  return tally;
};

/** One planted cause each in so many cars; every tenth car has no heights measured. */
export const plantSingles = (cars: number): Found => {
  const found: Found = {
    above: { held: 0, of: 0 },
    below: { held: 0, of: 0 },
    unchanged: { held: 0, of: 0 },
    confusion: new Map(),
    sizes: new Map(),
    tied: [],
  };
  for (let seed = 1; seed <= cars; seed += 1) {
    const random = createRandom(seed, 61);
    const bench = benchOf(rigCar(random, seed % 10 === 0 ? 'none' : 'all'));
    const { rig } = bench;
    add(
      found.unchanged,
      explain(bench, changeBetween(rig, [], rig.truth, random)).answer === 'nothing moved',
    );
    let what = drawCause(rig, random);
    while (classOf(bench, causeId(what)) < 0) what = drawCause(rig, random);
    const id = causeId(what);
    const least = discriminableSize(bench, id, createRandom(seed, 62));
    found.sizes.set(what.kind, [...(found.sizes.get(what.kind) ?? []), least]);
    const most = bench.classes.flat().find(({ cause }) => causeId(cause.what) === id)?.cause.most;
    const sign = random.uniform() < 0.5 ? -1 : 1;
    const see = (size: number): Causes => {
      const planted = plant(rig, what, sign * size, seed);
      return explain(bench, changeBetween(rig, [planted], planted.car, random));
    };
    const isAbove = (size: number): void => {
      const first = firstOf(see(size), id);
      add(found.above, first === 'right');
      const row = found.confusion.get(what.kind) ?? new Map<string, number>();
      found.confusion.set(what.kind, row.set(first, (row.get(first) ?? 0) + 1));
    };
    const isBelow = (size: number): void => {
      const { answer, classes } = see(size);
      const tied = classes.filter((each) => each.isTied);
      found.tied.push(tied.length);
      add(
        found.below,
        (answer === 'single cause' || answer === 'nothing moved') &&
          tied.some(({ members }) => holds(members, id)),
      );
    };
    if (what.kind === 'wheels exchanged') {
      // Its size is what the radii make it.
      const [one, other] = [what.one, what.other].map(
        (corner) => rig.truth.radii[['LF', 'RF', 'LR', 'RR'].indexOf(corner)] as number,
      ) as [number, number];
      const size = Math.abs(other - one);
      if (least !== null && size >= least) isAbove(size);
      else isBelow(size);
      continue;
    }
    const top = most as number;
    if (least !== null) isAbove(Math.min(top, least * random.between(1, 3)));
    isBelow((least ?? top) * random.between(0.1, 1));
  }
  return found;
};

export interface FoundPairs {
  /** Part outside every single class above 4.2: "no single cause" or the right pair. */
  readonly outside: Tally;
  /** The same, but only cars where it is 4.2 to 6. */
  readonly near: Tally;
  /** Below: the tied set holds one of the two, or the class that explains them. */
  readonly inside: Tally;
  readonly rightPair: number;
}

/** Part of a whitened change without noise that no single class explains. */
const outsideAll = (bench: Bench, y: readonly number[]): { part: number; best: number } => {
  const parts = bench.classes.map((members) =>
    Math.min(
      ...members.map(({ signature }) =>
        Math.sqrt(
          Math.max(0, inner(y, y) - inner(y, signature) ** 2 / inner(signature, signature)),
        ),
      ),
    ),
  );
  const part = Math.min(...parts);
  return { part, best: parts.indexOf(part) };
};

/** Two causes each in so many cars. */
export const plantPairs = (cars: number): FoundPairs => {
  const outside = { held: 0, of: 0 };
  const near = { held: 0, of: 0 };
  const inside = { held: 0, of: 0 };
  let rightPair = 0;
  for (let seed = 1; seed <= cars; seed += 1) {
    const random = createRandom(seed, 63);
    const bench = benchOf(rigCar(random, 'all'));
    const { rig } = bench;
    const draw = (): CauseWhat => {
      let what = drawCause(rig, random);
      while (classOf(bench, causeId(what)) < 0 || what.kind === 'wheels exchanged')
        what = drawCause(rig, random);
      return what;
    };
    const one = draw();
    let other = draw();
    while (classOf(bench, causeId(other)) === classOf(bench, causeId(one))) other = draw();
    const sizeOf = (what: CauseWhat): number => {
      const self = bench.classes.flat().find(({ cause }) => causeId(cause.what) === causeId(what));
      if (!self) return 0;
      const unit = Math.sqrt(inner(self.signature, self.signature));
      const sign = random.uniform() < 0.5 ? -1 : 1;
      return sign * Math.min(self.cause.most, random.between(3, 16) / unit);
    };
    const first = plant(rig, one, sizeOf(one), seed);
    const second = plant({ ...rig, truth: first.car }, other, sizeOf(other), seed + 1);
    const clean = noiseless(rig, [first, second]);
    const { part, best } = outsideAll(bench, bench.whiten(clean));
    const answered = explain(bench, changeBetween(rig, [first, second], second.car, random));
    const ids = [causeId(one), causeId(other)] as const;
    const pair = answered.pairs[0];
    const isRight =
      answered.answer === 'two causes' &&
      pair !== undefined &&
      ids.every((id) => pair.of.some((k) => holds(answered.classes[k]?.members ?? [], id)));
    if (part > 4.2) {
      if (isRight) rightPair += 1;
      const held = isRight || answered.answer === 'no single cause';
      add(outside, held);
      if (part < 6) add(near, held);
    } else {
      const nearest = bench.classes[best]?.[0];
      const wanted = [...ids, ...(nearest ? [causeId(nearest.cause.what)] : [])];
      const tied = answered.classes.filter((each) => each.isTied);
      add(
        inside,
        answered.answer === 'no single cause' ||
          isRight ||
          (answered.answer !== 'two causes' &&
            wanted.some((id) => tied.some(({ members }) => holds(members, id)))),
      );
    }
  }
  return { outside, near, inside, rightPair };
};

/** Change without friction and gauges. */
const noiseless = (
  rig: RigCar,
  planted: Parameters<typeof changeBetween>[1],
): readonly number[] => {
  const silent: RigCar = {
    ...rig,
    friction: 0,
    items: rig.items.map((item) => ({ ...item, own: 0 })),
  };
  const last = planted.at(-1);
  return changeBetween(silent, planted, last ? last.car : rig.truth, createRandom(1));
};
