import type { JointForces } from '../balance/propagate.ts';
import { CORNERS } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import { chiSquaredQuantile } from '../statistics/chiSquaredQuantile.ts';
import { factor, solveFactored } from '../signal/early/cholesky.ts';
import { refused, type AdjustRefusal } from './refusal.ts';
import { statics, type StandingCar } from './statics.ts';

/** The preload of an anti-roll bar, from weighing with it off and on. */
export interface BarPreload {
  readonly ok: true;
  /** Load that the bar brings to the pad of its left wheel, newton; the right loses as much. */
  readonly shift: Measured;
  /**
   * Change of one drop link's length that takes it out, metre, at the left; the right link by the
   * same amount the other way does as well. Longer is positive.
   */
  readonly leftLink: Measured;
  /** Whether the preload is beyond the noise of the two weighings (95 %). */
  readonly seen: boolean;
}

export interface BarWeighing {
  readonly standing: StandingCar;
  readonly axle: 'front' | 'rear';
  /** Settled loads with this bar off and on, newton; everything else as it was. */
  readonly off: JointForces;
  readonly on: JointForces;
  /** The other bar meanwhile. */
  readonly otherBar: 'off' | 'on';
  /** Drop-link travel over wheel travel. */
  readonly linkRatio: number;
  /** Relative standard uncertainty of the bar's rate. */
  readonly rateDoubt: number;
  /**
   * Where the bar's arm is: above the wheel's end of the link, a link in compression pushes the
   * wheel down, and a shorter left link unloads it; below, the other way round.
   */
  readonly barEnd: 'above' | 'below';
}

/**
 * Preload of a bar. Connecting a bar whose ends do not meet the links as they stand pulls the wheels
 * apart by some offset d: force f·d down at the left and up at the right, f the bar's rate wheel to
 * wheel, which is what seats moved by ±f·d/k do with the bar on. The shift of the four loads along
 * that one pattern gives d by weighted least squares; the link takes d·ratio.
 *
 * Refuses a car without that bar, a link ratio that is not above zero, and a shift that is not along
 * the pattern: then something besides the bar has changed.
 */
export const barPreload = (weighing: BarWeighing): BarPreload | AdjustRefusal => {
  const { standing, axle, off, on, linkRatio } = weighing;
  const rate = axle === 'front' ? standing.car.barFront : standing.car.barRear;
  if (!(rate > 0))
    return refused('no bar', `The car has no ${axle} bar in its data. Enter the bar's rate first.`);
  if (!(linkRatio > 0 && linkRatio < Infinity))
    return refused(
      'no motion ratio',
      'The ratio of drop-link travel to wheel travel is missing or not above zero. Measure it first.',
    );
  const other = axle === 'front' ? 'barRear' : 'barFront';
  const car = weighing.otherBar === 'on' ? standing.car : { ...standing.car, [other]: 0 };
  const none = { LF: 0, RF: 0, LR: 0, RR: 0 };
  const [left, right] = axle === 'front' ? (['LF', 'RF'] as const) : (['LR', 'RR'] as const);
  const { wheelRates } = car;
  const seats = { ...none, [left]: rate / wheelRates[left], [right]: -rate / wheelRates[right] };
  const at = (moved: typeof none): readonly number[] => {
    const { loads } = statics({ ...standing, car }, { seats: moved, pads: none, bars: 'on' });
    return CORNERS.map((corner) => loads[corner]);
  };
  const before = at(none);
  const perMetre = at(seats).map((load, i) => load - (before[i] as number));

  const shift = on.values.map((load, i) => load - (off.values[i] as number));
  const noise = Float64Array.from(on.covariance, (each, i) => each + (off.covariance[i] as number));
  if (!factor(noise, 4))
    return refused(
      'no reading',
      'The two weighings have no uncertainty. Take both again as settled readings.',
    );
  const weighed = Float64Array.from(perMetre);
  solveFactored(noise, 4, weighed);
  const information = perMetre.reduce((sum, g, i) => sum + g * (weighed[i] as number), 0);
  const offset = shift.reduce((sum, y, i) => sum + y * (weighed[i] as number), 0) / information;
  const residual = shift.map((y, i) => y - (perMetre[i] as number) * offset);
  const weighedResidual = Float64Array.from(residual);
  solveFactored(noise, 4, weighedResidual);
  const squares = residual.reduce((sum, r, i) => sum + r * (weighedResidual[i] as number), 0);
  if (squares > chiSquaredQuantile(0.001, 3))
    return refused(
      'something else changed',
      'The loads changed by more than a bar can do: the total or the ends are not what they were. Settle and weigh both ways again, nobody touching.',
    );

  const offsetU = Math.sqrt(1 / information);
  const leftPerMetre = perMetre[axle === 'front' ? 0 : 2] as number;
  const sign = weighing.barEnd === 'above' ? -1 : 1;
  const dof = Math.min(...on.dof, ...off.dof);
  return {
    ok: true,
    shift: measured(leftPerMetre * offset, Math.abs(leftPerMetre) * offsetU, dof),
    // A rate that is off moves the offset by less than in proportion: the springs give way too.
    leftLink: measured(
      sign * offset * linkRatio,
      linkRatio * Math.hypot(offsetU, offset * weighing.rateDoubt),
      dof,
    ),
    seen: Math.abs(offset) > 1.96 * offsetU,
  };
};
