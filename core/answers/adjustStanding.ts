import { checkAdjusters } from '../adjust/adjuster.ts';
import {
  choiceOf,
  cornersCalled,
  plannedNow,
  stepOf,
  type PlannedNow,
} from '../adjust/adjustment.ts';
import { refused, type AdjustRefusal } from '../adjust/refusal.ts';
import type { Adjustment } from '../contract/adjustment.ts';
import type { KeptOf } from '../contract/kept.ts';
import { adjustersOf } from '../sheet/adjustersOf.ts';
import type { Car } from '../sheet/car.ts';
import type { MassUnit } from '../units.ts';
import { adjustAnswer, type AdjustSeen } from './adjustAnswer.ts';
import type { Answer } from './answer.ts';

/** The newest telling of an adjustment of a car, over or not; null where it has none. */
export const lastAdjustment = (
  kept: readonly KeptOf<'adjustment'>[],
  carId: string,
): KeptOf<'adjustment'> | null =>
  kept.findLast(({ adjustment }) => adjustment.carId === carId) ?? null;

/** Where an adjustment under way stands. Of a call it does not say how far it is: only the loads do. */
export const adjustSeen = (adjustment: Adjustment, now: PlannedNow | AdjustRefusal): AdjustSeen => {
  if (!now.ok) return { at: 'refused', refusal: now };
  const { plan, adjusters, targets } = now;
  const step = stepOf(adjustment);
  if (step?.do === 'turn') {
    const adjuster = adjusters[step.call.corner];
    return adjuster
      ? { at: 'turning', call: step.call, adjuster, progress: null }
      : {
          at: 'refused',
          refusal: refused(
            'no adjusters',
            'This corner has no adjuster any more. Enter it with the car.',
          ),
        };
  }
  if (step)
    return {
      at: 'crew',
      step: step.do,
      corners: cornersCalled(adjustment).map(({ corner }) => corner),
    };
  if (!plan.ok) return { at: 'refused', refusal: plan };
  const choice = choiceOf(plan, adjustment.choice);
  return choice.ok
    ? {
        at: 'planned',
        choice,
        adjusters,
        beyond: plan.beyond,
        points: targets.heights.map(({ point }) => point.name),
      }
    : { at: 'refused', refusal: choice };
};

/** How "What do we turn?" stands, from the newest adjustment of the car. */
export const adjustStanding = (of: {
  readonly car: Car;
  /** Null where there is none that is not over. */
  readonly adjustment: Adjustment | null;
  readonly massUnit: MassUnit;
}): Answer => {
  const { car, adjustment, massUnit } = of;
  if (adjustment)
    return adjustAnswer(adjustSeen(adjustment, plannedNow(car, adjustment)), massUnit);
  const wrong = checkAdjusters(adjustersOf(car));
  return adjustAnswer(wrong ? { at: 'refused', refusal: wrong } : { at: 'not begun' }, massUnit);
};
