import { CORNERS, inOrder, perCorner, type Corner, type PerCorner } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import type { AdjustHistory } from './adjustHistory.ts';
import { fitHistory } from './fitHistory.ts';
import { riseShares } from './heightPoint.ts';
import { BEYOND_CHANCE, learn } from './learn.ts';
import { FACTORS, predictChange, type TurnResponse } from './turnResponse.ts';

/**
 * What may be behind a response that disagrees beyond chance.
 * bar connected: an anti-roll bar works that should be off. thread pitch: the adjuster's thread is
 * another than in the data. coil-bound: the spring is shut or sits on a packer, so its rate is far up.
 * loose: the perch turns and the body does not follow. stuck damper: a strut holds force.
 * other turns: another corner, way or number than called. hand or mass: somebody leaned, or mass was
 * put in or taken out.
 */
const DISAGREEMENT_KINDS = [
  'bar connected',
  'thread pitch',
  'coil-bound',
  'loose',
  'stuck damper',
  'other turns',
  'hand or mass',
] as const;
export type DisagreementKind = (typeof DISAGREEMENT_KINDS)[number];

export interface Reason {
  readonly kind: DisagreementKind;
  /** The corner it is at; null where it has none. */
  readonly corner: Corner | null;
  /** Probability among all that were tried, chance too, all held equally likely before. */
  readonly weight: number;
}

/** A newest reading that does not fit, and what would explain it, the likeliest first. */
export interface Disagreement {
  readonly chance: number;
  /** Change of the left front's corner weight, kg: along the warp all four follow it. */
  readonly load: { readonly expected: Measured; readonly seen: Measured };
  /** Rise over the corner that was turned most, metre; null while its height was not measured. */
  readonly rise: {
    readonly corner: Corner;
    readonly expected: Measured;
    readonly seen: Measured;
  } | null;
  readonly reasons: readonly Reason[];
}

/** Below this a reason is not told: what is left is one chance in twenty. */
const LEAST_WEIGHT = 0.05;
/** How far each cause moves a factor, and the doubt of that, as logarithms; ours, no source. */
const PITCH = { by: Math.log(2), doubt: 0.25 };
const SHUT = { by: Math.log(6), doubt: 0.6 };
const LOOSE = { by: -Math.log(12), doubt: 0.8 };
/** What a stuck damper holds, what a hand lays on the car (N) and turns made by mistake. */
const STUCK = 300;
const HAND = 60;
const MISTAKEN_TURNS = 1;

/**
 * Asks whether the newest reading of a history disagrees with the response known before it, and why.
 * Null where it does not (see `BEYOND_CHANCE`), or where there is nothing to compare. Each cause is
 * fitted to the newest change alone and weighed by its evidence (Laplace), so one that explains
 * everything is held against one that explains this.
 */
export const disagreement = (prior: TurnResponse, history: AdjustHistory): Disagreement | null => {
  const { readings } = history;
  const [last, newest] = [readings.at(-2), readings.at(-1)];
  if (!last || !newest) return null;
  const learnt = learn(prior, history);
  if (!learnt.ok || learnt.chance >= BEYOND_CHANCE) return null;
  const earlier = learn(prior, { ...history, readings: readings.slice(0, -1) });
  if (!earlier.ok) return null;
  const before = earlier.response;
  // A height not measured last time is taken as all readings before had it.
  const heights = last.reading.heights.map((height, i) => height ?? earlier.heights[i] ?? null);
  const from = { ...last, reading: { ...last.reading, heights } };
  const change: AdjustHistory = { ...history, readings: [from, newest] };

  const found: { readonly kind: DisagreementKind | null; corner: Corner | null; log: number }[] =
    [];
  const tried = (
    kind: DisagreementKind | null,
    corner: Corner | null,
    of: {
      readonly response?: TurnResponse;
      readonly history?: AdjustHistory;
      readonly held?: PerCorner<number>;
    },
  ): void => {
    const fit = fitHistory(of.response ?? before, of.history ?? change, (index) =>
      index === 1 ? (of.held ?? null) : null,
    );
    if (fit) found.push({ kind, corner, log: fit.logEvidence });
  };
  tried(null, null, {});
  const { car } = before.standing;
  if (before.bars === 'off' && car.barFront + car.barRear > 0)
    tried('bar connected', null, { response: { ...before, bars: 'on' } });
  const rate = perCorner(
    (corner, i) => car.wheelRates[corner] * Math.exp(before.logFactors[4 + i] as number),
  );
  CORNERS.forEach((corner, i) => {
    const only = (force: number): PerCorner<number> =>
      perCorner((other) => (other === corner ? force : 0));
    tried('stuck damper', corner, { held: only(STUCK) });
    if (newest.turns[corner] === 0) return;
    tried('thread pitch', corner, { response: shifted(before, i, PITCH.by, PITCH.doubt) });
    tried('thread pitch', corner, { response: shifted(before, i, -PITCH.by, PITCH.doubt) });
    tried('coil-bound', corner, { response: shifted(before, 4 + i, SHUT.by, SHUT.doubt) });
    tried('loose', corner, { response: shifted(before, i, LOOSE.by, LOOSE.doubt) });
  });
  tried('other turns', null, {
    held: perCorner(
      (corner) => (before.sheetSeatPerTurn[corner] ?? 0) * MISTAKEN_TURNS * rate[corner],
    ),
  });
  tried('hand or mass', null, { history: pushed(change) });

  const best = Math.max(...found.map(({ log }) => log));
  const weights = found.map(({ log }) => Math.exp(log - best));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const reasons: Reason[] = [];
  found.forEach(({ kind, corner }, index) => {
    if (!kind) return;
    const weight = (weights[index] as number) / total;
    const same = reasons.findIndex((each) => each.kind === kind && each.corner === corner);
    if (same >= 0) reasons[same] = { kind, corner, weight: weight + (reasons[same]?.weight ?? 0) };
    else reasons.push({ kind, corner, weight });
  });
  return {
    chance: learnt.chance,
    ...evidence(before, change),
    reasons: reasons
      .filter(({ weight }) => weight >= LEAST_WEIGHT)
      .toSorted((a, b) => b.weight - a.weight),
  };
};

/** A response with one logarithm moved and less well known. */
const shifted = (of: TurnResponse, index: number, by: number, doubt: number): TurnResponse => ({
  ...of,
  logFactors: of.logFactors.map((value, i) => (i === index ? value + by : value)),
  covariance: of.covariance.map((value, i) =>
    i === index * (FACTORS + 1) ? value + doubt ** 2 : value,
  ),
});

/** The same change with an unknown push on the body at the newest reading. */
const pushed = (change: AdjustHistory): AdjustHistory => ({
  ...change,
  readings: change.readings.map((each, index) => {
    if (index === 0) return each;
    const { loads } = each.reading;
    // Down anywhere: evenly, to an end, to a side.
    const ways = [
      [1, 1, 1, 1],
      [1, 1, -1, -1],
      [1, -1, 1, -1],
    ];
    const covariance = loads.covariance.map((value, i) =>
      ways.reduce(
        (sum, way) => sum + HAND ** 2 * (way[Math.floor(i / 4)] as number) * (way[i % 4] as number),
        value,
      ),
    );
    return { ...each, reading: { ...each.reading, loads: { ...loads, covariance } } };
  }),
});

const evidence = (
  before: TurnResponse,
  { points, readings }: AdjustHistory,
): Pick<Disagreement, 'load' | 'rise'> => {
  const [last, newest] = readings;
  if (!last || !newest) throw new RangeError('a change has two readings');
  const predicted = predictChange(before, newest.turns);
  const difference = (a: number, b: number, ua: number, ub: number): Measured =>
    measured(b - a, Math.hypot(ua, ub), Infinity);
  const { loads: was } = last.reading;
  const { loads: is, gravity } = newest.reading;
  const most = CORNERS.toSorted(
    (a, b) => Math.abs(newest.turns[b]) - Math.abs(newest.turns[a]),
  )[0] as Corner;
  /** The point nearest to being over the corner. */
  const shares = points.map((point) => riseShares(before.standing.car, point));
  const corner = CORNERS.indexOf(most);
  const nearest = shares.reduce(
    (found, row, i) => ((row[corner] as number) > (shares[found]?.[corner] ?? -1) ? i : found),
    0,
  );
  const [from, to] = [last.reading.heights[nearest], newest.reading.heights[nearest]];
  const row = shares[nearest] ?? [];
  const variance = row.reduce(
    (sum, a, i) =>
      sum +
      row.reduce((s, b, k) => s + a * b * (predicted.covariance[(4 + i) * 8 + 4 + k] as number), 0),
    0,
  );
  return {
    load: {
      expected: measured(
        (predicted.change[0] as number) / gravity,
        Math.sqrt(Math.max(0, predicted.covariance[0] as number)) / gravity,
        Infinity,
      ),
      seen: difference(
        was.values[0] / gravity,
        is.values[0] / gravity,
        Math.sqrt(was.covariance[0] as number) / gravity,
        Math.sqrt(is.covariance[0] as number) / gravity,
      ),
    },
    rise:
      from && to && inOrder(newest.turns).some((turns) => turns !== 0)
        ? {
            corner: most,
            expected: measured(
              row.reduce((sum, s, i) => sum + s * (predicted.change[4 + i] as number), 0),
              Math.sqrt(Math.max(0, variance)),
              Infinity,
            ),
            seen: difference(from.value, to.value, from.u, to.u),
          }
        : null,
  };
};
