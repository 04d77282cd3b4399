import type { Characteristics, Limits, Verdict } from '../contract/calibrationRecord.ts';
import type { AccuracyClass } from './errorLimits.ts';
import { limitAt } from './limitAt.ts';
import type { Indication } from './indications.ts';

type TestResult = Verdict['tests'][number];

/** What a verdict is made of; kg. */
export interface Evidence {
  /** Every indication in the fit. */
  readonly points: readonly Pick<Indication, 'load' | 'error'>[];
  readonly characteristics: Characteristics;
  /** Relative standard uncertainty of what was applied; null where it is not known. */
  readonly uApplied: number | null;
  /** Rated load, or the top load where the pad does not say. */
  readonly capacity: number;
}

/** Fewest and most verification intervals of a class by the size of the interval, kg (R 76-1, table 3). */
const intervalsOf = (
  accuracy: AccuracyClass,
  interval: number,
): readonly [fewest: number, most: number] => {
  switch (accuracy) {
    case 'I':
      return [50_000, Infinity];
    case 'II':
      return [interval <= 5e-5 ? 100 : 5_000, 100_000];
    case 'III':
      return [interval <= 2e-3 ? 100 : 500, 10_000];
    case 'IIII':
      return [100, 1_000];
  }
};

const judged = (
  test: TestResult['test'],
  seen: { readonly worst: number; readonly limit: number | null; readonly load: number },
): TestResult => ({
  test,
  ...seen,
  outcome:
    seen.limit !== null && Math.abs(seen.worst) <= seen.limit * (1 + 1e-9) ? 'within' : 'outside',
});

const notSeen = (test: TestResult['test']): TestResult => ({
  test,
  worst: null,
  limit: null,
  load: null,
  outcome: 'not seen',
});

/** The error that uses most of its limit; one beyond the class uses all. */
const errors = (points: Evidence['points'], limits: Limits): TestResult => {
  let worst: { worst: number; limit: number | null; load: number; share: number } | null = null;
  for (const { load, error } of points) {
    // A jack's or a zero's reading may be a trifle below nothing.
    const limit = limitAt(limits, Math.max(0, load));
    const share = limit === null ? Infinity : Math.abs(error) / limit;
    if (!worst || share > worst.share) worst = { worst: error, limit, load, share };
  }
  if (!worst) return notSeen('errors');
  const { share: _share, ...seen } = worst;
  return judged('errors', seen);
};

/** A fixed share of the interval for a class, the limit of the load for own limits. */
const byInterval = (limits: Limits, share: number, load: number): number | null =>
  limits.is === 'class' ? share * limits.interval : limitAt(limits, load);

const zeroReturn = ({ zeroReturn: seen }: Characteristics, limits: Limits): TestResult =>
  seen
    ? judged('zero return', {
        worst: seen.value,
        limit: byInterval(limits, 0.5, seen.load),
        load: seen.load,
      })
    : notSeen('zero return');

/** The change as far as it was watched, and between 15 and 30 minutes where it was read then. */
const creep = ({ creep: seen }: Characteristics, limits: Limits): TestResult => {
  if (!seen) return notSeen('creep');
  const whole = judged('creep', {
    worst: seen.change,
    limit: byInterval(limits, 0.5, seen.load),
    load: seen.load,
  });
  if (whole.outcome === 'outside' || seen.late === null) return whole;
  const late = judged('creep', {
    worst: seen.late,
    limit: byInterval(limits, 0.2, seen.load),
    load: seen.load,
  });
  return late.outcome === 'outside' ? late : whole;
};

/** What was applied must be known to a third of the limit: twice its standard uncertainty is. */
const masses = ({ points, uApplied }: Evidence, limits: Limits): TestResult => {
  if (uApplied === null) return notSeen('masses');
  const each = points
    .filter(({ load }) => load > 0)
    .map(({ load }) => {
      const limit = limitAt(limits, load);
      return { worst: 2 * uApplied * load, limit: limit === null ? null : limit / 3, load };
    });
  const share = ({ worst, limit }: (typeof each)[number]): number => worst / (limit ?? 0);
  const [first, ...rest] = each;
  if (!first) return notSeen('masses');
  return judged(
    'masses',
    rest.reduce((worst, now) => (share(now) > share(worst) ? now : worst), first),
  );
};

const intervals = (capacity: number, limits: Limits): readonly TestResult[] => {
  if (limits.is === 'own') return [];
  const count = Number((capacity / limits.interval).toPrecision(12));
  const [fewest, most] = intervalsOf(limits.accuracy, limits.interval);
  return [
    {
      test: 'intervals',
      worst: count,
      limit: count < fewest ? fewest : Number.isFinite(most) ? most : null,
      load: capacity,
      outcome: count >= fewest && count <= most ? 'within' : 'outside',
    },
  ];
};

/**
 * Holds a calibration against limits. A class: OIML R 76-1:2006, errors 3.5.1 (table 6), repeatability
 * 3.6.1 (range within the limit of the load), zero return 3.9.4.2 and creep 3.9.4.1 (half an interval in
 * 30 minutes, a fifth between 15 and 30), weights 3.7.1 (a third of the limit), number of intervals 3.2
 * (table 3). Own limits: the same tests with the limit of the load throughout. Numbers are kg, of
 * *intervals* the count. Outside where one test is; cannot tell where there are no errors or what was
 * applied is not known.
 */
export const verdictOn = (evidence: Evidence, against: Limits): Verdict => {
  const { characteristics } = evidence;
  const { repeatability: repeated } = characteristics;
  const tests = [
    errors(evidence.points, against),
    repeated
      ? judged('repeatability', {
          worst: repeated.range,
          limit: limitAt(against, Math.max(0, repeated.load)),
          load: repeated.load,
        })
      : notSeen('repeatability'),
    zeroReturn(characteristics, against),
    creep(characteristics, against),
    masses(evidence, against),
    ...intervals(evidence.capacity, against),
  ];
  const needed = tests.filter(({ test }) => test === 'errors' || test === 'masses');
  return {
    against,
    tests,
    outcome: tests.some(({ outcome }) => outcome === 'outside')
      ? 'outside'
      : needed.some(({ outcome }) => outcome === 'not seen')
        ? 'cannot tell'
        : 'within',
  };
};
