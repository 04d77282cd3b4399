import { found, refused, tooUncertain, type Outcome, type Refused } from '../alignment/outcome.ts';
import { propagated } from '../alignment/propagated.ts';
import { weightedFit, type WeightedFit } from '../alignment/weightedFit.ts';
import { fixed, HARD_SPACE } from '../format/number.ts';
import { measured, type Measured } from '../measured.ts';
import { effectiveDof } from '../uncertainty/combine.ts';
import { centreHeight, liftAngle, liftLeverage, type LiftGeometry } from './axleLiftGeometry.ts';

/** One height of the lift. */
export interface LiftReading {
  /** How far the lifted wheel centres are above where they stood, metre; zero with all wheels down. */
  readonly lift: Measured;
  /** Load on the axle that stays down, kg. */
  readonly load: Measured;
  /** Load on the lifted axle, kg, where pads carry it too; null where they do not. */
  readonly liftedLoad: Measured | null;
  readonly going: 'up' | 'down';
}

export interface AxleLiftInput {
  readonly wheelbase: Measured;
  readonly radiusStanding: Measured;
  readonly radiusLifted: Measured;
  /** The whole car, all wheels down, in the same state, kg. */
  readonly mass: Measured;
  readonly readings: readonly LiftReading[];
  /** Rigid links in place of the springs, so that the body turns with the wheel centres. */
  readonly suspensionLocked: boolean;
  /** Brakes off, neutral: the wheels roll as the car tilts. */
  readonly wheelsFree: boolean;
}

export interface AxleLift {
  /** Height of the centre of gravity above the ground, all wheels down on these wheels, metre. */
  readonly cgHeight: Measured;
  /** Share of the mass on the standing axle with all wheels down, from the same line. */
  readonly shareStanding: Measured;
  /** Load going down less load going up at the same raised heights, kg; null where none was read both ways. */
  readonly hysteresis: Measured | null;
  /** Reading less line, kg, in the order of the readings. */
  readonly residuals: readonly number[];
  /** Metre of height that one kilogram is worth at the highest lift. */
  readonly heightPerKilogram: number;
}

/** Below it a kilogram is worth too much height; vehicle makers ask for as much in their body guides. */
const LEAST_LIFT = 0.6;
/** Heights that can show whether the line is straight: ISO 10392 asks for three steps or more. */
const NEEDED_HEIGHTS = 3;
/** Lifts this near are one height. */
const SAME_LIFT = 0.005;
/** Further off than its u by so much a difference is not chance. */
const COVERAGE = 3;

/**
 * Height of the centre of gravity by lifting one axle (after ISO 10392: several heights, up and down,
 * load against the tangent of the angle). The line is fitted in the exact leverage for front and rear
 * wheels of unlike radii; its gradient over the mass is the height above the wheel centres. Readings are
 * independent; wheelbase, radii and mass are common to all and are propagated through it.
 */
export const axleLift = (input: AxleLiftInput): Outcome<AxleLift> => {
  const refusal = impossible(input);
  if (refusal) return refusal;
  const { readings, mass } = input;
  const common = [input.wheelbase, input.radiusStanding, input.radiusLifted, mass];
  const values = common.map(({ value }) => value);

  const fit = lineThrough(readings, values);
  if (!fit)
    return refused(
      'The readings do not make a line.',
      'Read the load with all wheels down and at three heights, each with its uncertainty.',
    );
  const weight = mass.value;
  const geometry = geometryOf(values);
  const step = geometry.radiusStanding - geometry.radiusLifted;
  const byCommon = propagated(common, (x) => {
    const line = lineThrough(readings, x)?.coefficients;
    const [atRest = Number.NaN, gradient = Number.NaN] = line ?? [];
    const total = x[3] as number;
    return centreHeight(geometryOf(x), atRest / total) + gradient / total;
  });
  if (!byCommon) return tooUncertain;
  const parts = [fit.estimate([step / weight, 1 / weight]), byCommon];
  const height = measured(
    byCommon.value,
    Math.hypot(...parts.map(({ u }) => u)),
    effectiveDof(parts),
  );
  const highest = Math.max(...readings.map(({ lift }) => lift.value));
  const result: AxleLift = {
    cgHeight: height,
    shareStanding: fit.estimate([1 / weight, 0]),
    hysteresis: hysteresis(readings, fit.residuals),
    residuals: fit.residuals,
    heightPerKilogram: 1 / (weight * leverageOf(geometry, highest)),
  };
  return height.value > 0
    ? found(result, warningsOf(input, values, result, fit.agrees))
    : refused(
        'The centre of gravity would lie below the ground.',
        'Look which axle was lifted and which one the loads were read under.',
      );
};

const geometryOf = (x: readonly number[]): LiftGeometry => ({
  wheelbase: x[0] as number,
  radiusStanding: x[1] as number,
  radiusLifted: x[2] as number,
});

const leverageOf = (geometry: LiftGeometry, lift: number): number =>
  liftLeverage(geometry, liftAngle(geometry, lift) ?? Number.NaN);

/** Load at rest (kg) and gradient (kg·m) against leverage. Two passes: the lift's u counts by the gradient. */
const lineThrough = (
  readings: readonly LiftReading[],
  common: readonly number[],
): WeightedFit | null => {
  const geometry = geometryOf(common);
  const leverageAt = (lift: number): number => leverageOf(geometry, lift);
  const rows = readings.map(({ lift }) => [1, leverageAt(lift.value)]);
  const perLift = readings.map(
    ({ lift: { value, u } }) => leverageAt(value + u) - leverageAt(value),
  );
  if (![...rows.flat(), ...perLift].every(Number.isFinite)) return null;
  const fitWith = (gradient: number): WeightedFit | null =>
    weightedFit(
      rows,
      readings.map(({ lift, load }, i) =>
        measured(
          load.value,
          Math.hypot(load.u, gradient * (perLift[i] as number)),
          lift.u > 0 ? Math.min(lift.dof, load.dof) : load.dof,
        ),
      ),
    );
  const first = fitWith(0);
  return first && fitWith(first.coefficients[1] as number);
};

const heightsOf = (readings: readonly LiftReading[]): number => {
  const lifts = readings.map(({ lift }) => lift.value).toSorted((a, b) => a - b);
  return lifts.filter((lift, i) => i === 0 || lift - (lifts[i - 1] as number) > SAME_LIFT).length;
};

/** Mean of down less up over the raised heights that were read both ways, as the line's residuals have it. */
const hysteresis = (
  readings: readonly LiftReading[],
  residuals: readonly number[],
): Measured | null => {
  const indexed = readings.map((reading, i) => ({ ...reading, residual: residuals[i] as number }));
  const pairs = indexed.flatMap((up) => {
    if (up.going !== 'up' || up.lift.value <= SAME_LIFT) return [];
    const down = indexed.find(
      ({ going, lift }) => going === 'down' && Math.abs(lift.value - up.lift.value) <= SAME_LIFT,
    );
    return down ? [{ up, down }] : [];
  });
  if (pairs.length === 0) return null;
  const mean = (values: readonly number[]): number =>
    values.reduce((sum, value) => sum + value, 0) / pairs.length;
  const loads = pairs.flatMap(({ up, down }) => [up.load, down.load]);
  return measured(
    mean(pairs.map(({ up, down }) => down.residual - up.residual)),
    Math.hypot(...loads.map(({ u }) => u)) / pairs.length,
    effectiveDof(loads),
  );
};

const impossible = (input: AxleLiftInput): Refused | null => {
  if (!input.suspensionLocked)
    return refused(
      'The suspension was free to move: the body turned by another angle than the wheels.',
      'Put rigid links in place of the springs and lift again.',
    );
  if (!input.wheelsFree)
    return refused(
      'Wheels that cannot roll push against the pads and carry load of their own.',
      'Release the brakes, take the car out of gear, secure it against rolling and lift again.',
    );
  const { wheelbase, radiusStanding, radiusLifted, mass } = input;
  if ([wheelbase, radiusStanding, radiusLifted, mass].some(({ value, u }) => !(value > 3 * u)))
    return refused(
      'Wheelbase, radii and mass must be well above zero.',
      'Give them in the car, and weigh it with all wheels down.',
    );
  for (const { lift, load } of input.readings) {
    if (!(lift.value >= 0 && lift.value < wheelbase.value))
      return refused(
        'A lift is below zero or longer than the wheelbase.',
        'Give how far the wheel centres rose, and look at the unit.',
      );
    if (!(load.value > 0 && load.value < mass.value))
      return refused(
        'A load on the standing axle is not between nothing and the whole car.',
        'Look at the unit of the loads and of the mass.',
      );
    if (!(load.u > 0))
      return refused('A load has no uncertainty.', 'Read it again when it has settled.');
  }
  if (heightsOf(input.readings) < 2)
    return refused(
      'All readings are at one height.',
      'Read the load with all wheels down and at three heights.',
    );
  return null;
};

const warningsOf = (
  { readings, mass }: AxleLiftInput,
  common: readonly number[],
  { hysteresis: way, heightPerKilogram }: AxleLift,
  agrees: boolean,
): readonly string[] => {
  const warnings: string[] = [];
  const highest = Math.max(...readings.map(({ lift }) => lift.value));
  if (highest < LEAST_LIFT - SAME_LIFT) {
    const enough = 1 / (mass.value * leverageOf(geometryOf(common), LEAST_LIFT));
    const shown = (height: number): string => `${fixed(height * 1000, 0)}${HARD_SPACE}mm`;
    warnings.push(
      `One kilogram is worth ${shown(heightPerKilogram)} of height at this lift and ${shown(enough)} at 0.6${HARD_SPACE}m: lift at least so far.`,
    );
  }
  if (heightsOf(readings.filter(({ lift }) => lift.value > SAME_LIFT)) < NEEDED_HEIGHTS)
    warnings.push('Fewer than three heights cannot show whether the line is straight: add some.');
  if (!way) warnings.push('Read the same heights on the way down too: friction shows only there.');
  else if (Math.abs(way.value) > COVERAGE * way.u)
    warnings.push(
      'Up and down differ by more than the readings scatter: something sticks. Let the wheels roll freely and repeat.',
    );
  if (!agrees)
    warnings.push(
      'The loads do not lie on a line: a wheel does not roll, a fluid runs, or a height is wrong. The uncertainty is that of their scatter.',
    );
  const unequal = readings.some(
    ({ load, liftedLoad }) =>
      liftedLoad &&
      Math.abs(load.value + liftedLoad.value - mass.value) >
        COVERAGE * Math.hypot(load.u, liftedLoad.u, mass.u),
  );
  if (unequal)
    warnings.push(
      'The two axles together do not weigh what the car does: something touches it, or a wheel is not free.',
    );
  return warnings;
};
