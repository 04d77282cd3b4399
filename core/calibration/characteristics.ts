import type { Characteristics } from '../contract/calibrationRecord.ts';
import { moments } from '../signal/moments.ts';
import type { Indication } from './indications.ts';

/**
 * What the points show of the pad itself, kg. The definitions are the trade's: nonlinearity is against
 * the straight line between no load and the top load, rising loads only; hysteresis is the difference of
 * falling and rising at one load of one cycle (glossaries of load-cell makers agree on both).
 */

type Worst = Characteristics['nonlinearity'];

const meanOf = (all: readonly Indication[], of: 'load' | 'indicated' | 'error'): number =>
  all.reduce((sum, each) => sum + each[of], 0) / all.length;

const worstOf = (each: readonly { readonly value: number; readonly load: number }[]): Worst =>
  each.reduce<Worst>(
    (worst, now) => (worst && Math.abs(worst.value) >= Math.abs(now.value) ? worst : now),
    null,
  );

const loaded = (all: readonly Indication[]): readonly Indication[] =>
  all.filter(({ point }) => !point.isZero && point.leftOut === null);

/**
 * Largest departure of the rising loads from the line between none and the top, in the sensitivity of
 * that line. `straight` are indications by a straight line over zero: the nonlinearity is the pad's,
 * whatever curve is used to take it out.
 */
const nonlinearity = (straight: readonly Indication[]): Worst => {
  const groups = Map.groupBy(
    loaded(straight).filter(({ point }) => point.side === 'up'),
    ({ point }) => point.load,
  );
  const rising = [...groups.values()]
    .map((group) => ({ load: meanOf(group, 'load'), indicated: meanOf(group, 'indicated') }))
    .toSorted((a, b) => a.load - b.load);
  const top = rising.at(-1);
  if (!top || rising.length < 2) return null;
  return worstOf(
    rising.slice(0, -1).map(({ load, indicated }) => ({
      load,
      value: (indicated * top.load) / top.indicated - load,
    })),
  );
};

const hysteresis = (all: readonly Indication[]): Worst => {
  const loops = Map.groupBy(loaded(all), ({ point }) => `${point.cycle} ${point.load}`);
  return worstOf(
    [...loops.values()].flatMap((loop) => {
      const up = loop.filter(({ point }) => point.side === 'up');
      const down = loop.filter(({ point }) => point.side === 'down');
      const [first] = loop;
      return first && up.length > 0 && down.length > 0
        ? [{ load: first.load, value: meanOf(down, 'error') - meanOf(up, 'error') }]
        : [];
    }),
  );
};

const repeatability = (all: readonly Indication[]): Characteristics['repeatability'] => {
  const groups = Map.groupBy(loaded(all), ({ point }) => `${point.side} ${point.load}`);
  let squares = 0;
  let dof = 0;
  let worst = { range: 0, load: 0 };
  for (const group of groups.values()) {
    if (group.length < 2) continue;
    const values = group.map(({ error }) => error);
    squares += moments(values).sd ** 2 * (values.length - 1);
    dof += values.length - 1;
    const range = Math.max(...values) - Math.min(...values);
    if (dof === values.length - 1 || range > worst.range)
      worst = { range, load: group[0]?.load ?? 0 };
  }
  return dof === 0 ? null : { ...worst, sd: Math.sqrt(squares / dof), dof };
};

/** A zero after a load is indicated over the zero before it: its indication is the zero's return. */
const zeroReturn = (all: readonly Indication[]): Worst =>
  worstOf(
    all.flatMap(({ point, indicated }, index) => {
      const before = all[index - 1]?.point;
      const from = all.slice(0, index).findLast((each) => each.point.isZero);
      if (!point.isZero || !before || before.isZero || !from) return [];
      const top = Math.max(...all.slice(all.indexOf(from), index).map(({ load }) => load));
      return [{ value: indicated, load: top }];
    }),
  );

/** 15 and 30 minutes after the load was placed (OIML R 76-1:2006, 3.9.4.1), and their slack, s. */
const LATE_FROM = 900;
const LATE_TO = 1800;
const SLACK = 60;

const creep = (all: readonly Indication[]): Characteristics['creep'] => {
  const stays: Indication[][] = [];
  for (const each of all) {
    if (each.point.leftOut === 'read again') stays.at(-1)?.push(each);
    else stays.push([each]);
  }
  const [longest] = stays
    .filter((stay) => stay.length > 1 && stay[0]?.point.isZero === false)
    .toSorted((a, b) => (b[0]?.load ?? 0) - (a[0]?.load ?? 0));
  const first = longest?.[0];
  const last = longest?.at(-1);
  if (!longest || !first || !last) return null;
  const since = ({ point }: Indication): number => point.taken.at - first.point.taken.at;
  const near = (wanted: number): Indication | undefined =>
    longest.find((each) => Math.abs(since(each) - wanted) <= SLACK);
  const [from, to] = [near(LATE_FROM), near(LATE_TO)];
  const seconds = since(last);
  if (!(seconds > 0)) return null;
  return {
    change: last.error - first.error,
    load: first.load,
    seconds,
    late: from && to ? to.error - from.error : null,
  };
};

/** All of them: `used` by the curve in use, `straight` by a straight line through the same zeros. */
export const characteristics = (
  used: readonly Indication[],
  straight: readonly Indication[],
): Characteristics => ({
  nonlinearity: nonlinearity(straight),
  hysteresis: hysteresis(used),
  repeatability: repeatability(used),
  zeroReturn: zeroReturn(used),
  creep: creep(used),
});
