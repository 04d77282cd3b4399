import type { Four } from '../balance/propagate.ts';
import { CORNERS, inOrder, perCorner, type PerCorner } from '../corners.ts';
import type { Car } from '../sheet/car.ts';
import { kilogram, metre, metrePerSecond2 } from '../units.ts';
import { checkAdjusters, seatPerTurn, type Adjusters } from './adjuster.ts';
import { refused, type AdjustRefusal } from './refusal.ts';
import { statics, type StandingCar, type Supports } from './statics.ts';

/**
 * How the car answers to turns, as far as it is known: the data sheet's numbers with a factor on
 * each seat's rise per turn (pitch, motion ratio) and on each wheel rate, and the covariance of
 * their logarithms. Plain numbers, so that it can be kept with the car.
 */
export interface TurnResponse {
  readonly standing: StandingCar;
  readonly bars: Supports['bars'];
  /** Metre at the wheel per turn as the data sheet has it; null where no adjuster is. */
  readonly sheetSeatPerTurn: PerCorner<number | null>;
  /** Natural logarithm of found over data sheet: seat per turn LF RF LR RR, then wheel rates. */
  readonly logFactors: readonly number[];
  /** Of the eight logarithms, row by row. */
  readonly covariance: readonly number[];
}

export const FACTORS = 8;

/**
 * Standard deviation of a factor's logarithm before anything was turned: limits of ±40 %, taken as
 * rectangular (JCGM 100:2008, 4.3.7). The limits are common practice, no source: motion ratios are
 * read off drawings, springs and bushes add up, and set-up wheels are taken as rigid.
 */
export const SHEET_DOUBT = 0.4 / Math.sqrt(3);

/** The car as four loads (newton) show it standing. Null where they are no car's. */
export const standingFrom = (car: Car, loads: Four, gravity: number): StandingCar | null => {
  const [lf, rf, lr, rr] = loads;
  const total = lf + rf + lr + rr;
  const share = (lf + rf) / total;
  if (!(total > 0 && share > 0 && share < 1 && gravity > 0)) return null;
  const left = ((lf - rf) * car.trackFront + (lr - rr) * car.trackRear) / 2 / total;
  return {
    car,
    mass: kilogram(total / gravity),
    frontShare: share,
    cgLeft: metre(left),
    gravity: metrePerSecond2(gravity),
  };
};

/** The response as the data sheet has it, before anything was turned. */
export const sheetResponse = (
  standing: StandingCar,
  adjusters: Adjusters,
  bars: Supports['bars'],
): { readonly ok: true; readonly response: TurnResponse } | AdjustRefusal => {
  const wrong = checkAdjusters(adjusters);
  if (wrong) return wrong;
  const covariance = new Array<number>(FACTORS * FACTORS).fill(0);
  for (let i = 0; i < FACTORS; i += 1) covariance[i * (FACTORS + 1)] = SHEET_DOUBT ** 2;
  const response: TurnResponse = {
    standing,
    bars,
    sheetSeatPerTurn: perCorner((corner) => {
      const adjuster = adjusters[corner];
      return adjuster ? seatPerTurn(adjuster) : null;
    }),
    logFactors: new Array<number>(FACTORS).fill(0),
    covariance,
  };
  try {
    seatEffects(response, response.logFactors);
  } catch {
    return refused(
      'not physical',
      'With these rates and this height of the centre of gravity the car would not stand. Check the data of the car.',
    );
  }
  return { ok: true, response };
};

/** The standing car with its wheel rates as the factors have them. */
const standingWith = (response: TurnResponse, logFactors: readonly number[]): StandingCar => {
  const { standing } = response;
  const wheelRates = perCorner(
    (corner, i) => standing.car.wheelRates[corner] * Math.exp(logFactors[4 + i] as number),
  );
  return { ...standing, car: { ...standing.car, wheelRates } };
};

const NONE: PerCorner<number> = { LF: 0, RF: 0, LR: 0, RR: 0 };

/** Loads then rises, LF RF LR RR each: eight numbers. */
const atRest = (of: StandingCar, seats: PerCorner<number>, bars: Supports['bars']): number[] => {
  const { loads, rise } = statics(of, { seats, pads: NONE, bars });
  return [...inOrder(loads), ...inOrder(rise)];
};

/**
 * What each seat does, per metre at the wheel: four columns of eight, change of the loads (N/m) then
 * of the body's height over the wheels (m/m). The statics is affine in the seats, so a difference is
 * exact.
 */
export const seatEffects = (
  response: TurnResponse,
  logFactors: readonly number[],
): readonly (readonly number[])[] => {
  const of = standingWith(response, logFactors);
  const before = atRest(of, NONE, response.bars);
  return CORNERS.map((corner) =>
    atRest(of, { ...NONE, [corner]: 1 }, response.bars).map((y, i) => y - (before[i] as number)),
  );
};

/** Metre at the wheel per turn as the factors have it; 0 where no adjuster is. */
export const seatPerTurnWith = (
  response: TurnResponse,
  logFactors: readonly number[],
): readonly number[] =>
  CORNERS.map(
    (corner, i) => (response.sheetSeatPerTurn[corner] ?? 0) * Math.exp(logFactors[i] as number),
  );

/** Step of the logarithm in central differences: their error is its square. */
const STEP = 1e-3;

/** Seat effects with their derivatives by the logarithms of the four wheel rates. */
export interface Effects {
  readonly effects: readonly (readonly number[])[];
  readonly byRate: readonly (readonly (readonly number[])[])[];
}

/** `seatEffects` and how they change with each wheel rate. */
export const effectsAndSlopes = (
  response: TurnResponse,
  logFactors: readonly number[],
): Effects => {
  const shifted = (index: number, by: number): readonly (readonly number[])[] =>
    seatEffects(
      response,
      logFactors.map((value, i) => (i === index ? value + by : value)),
    );
  return {
    effects: seatEffects(response, logFactors),
    byRate: CORNERS.map((_, j) => {
      const up = shifted(4 + j, STEP);
      const down = shifted(4 + j, -STEP);
      return up.map((column, i) =>
        column.map((y, row) => (y - (down[i]?.[row] as number)) / (2 * STEP)),
      );
    }),
  };
};

/**
 * Change of loads and rises (eight numbers) by so many turns, and its derivatives by the eight
 * logarithms: `slopes[factor][row]`.
 */
export const changeBy = (
  { effects, byRate }: Effects,
  perTurn: readonly number[],
  turns: readonly number[],
): { readonly change: readonly number[]; readonly slopes: readonly (readonly number[])[] } => {
  const seats = perTurn.map((each, i) => each * (turns[i] as number));
  const combined = (columns: readonly (readonly number[])[]): number[] =>
    Array.from({ length: 8 }, (_, row) =>
      columns.reduce((sum, column, i) => sum + (column[row] as number) * (seats[i] as number), 0),
    );
  return {
    change: combined(effects),
    slopes: [
      ...effects.map((column, i) => column.map((y) => y * (seats[i] as number))),
      ...byRate.map(combined),
    ],
  };
};

/** A change of loads (N) and rises over the wheels (m) with its covariance, eight by eight. */
export interface PredictedChange {
  readonly change: readonly number[];
  readonly covariance: readonly number[];
}

/** What so many turns do by this response, with the doubt that is left in it. */
export const predictChange = (
  response: TurnResponse,
  turns: PerCorner<number>,
  known?: Effects,
): PredictedChange => {
  const { change, slopes } = changeBy(
    known ?? effectsAndSlopes(response, response.logFactors),
    seatPerTurnWith(response, response.logFactors),
    inOrder(turns),
  );
  const covariance = new Array<number>(64).fill(0);
  for (let a = 0; a < FACTORS; a += 1)
    for (let b = 0; b < FACTORS; b += 1) {
      const c = response.covariance[a * FACTORS + b] as number;
      if (c === 0) continue;
      for (let i = 0; i < 8; i += 1)
        for (let j = 0; j < 8; j += 1)
          covariance[i * 8 + j] =
            (covariance[i * 8 + j] as number) +
            (slopes[a]?.[i] as number) * c * (slopes[b]?.[j] as number);
    }
  return { change, covariance };
};
