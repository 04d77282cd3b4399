import { describe, expect, test } from 'vitest';
import { balance } from '../../../core/balance/balance.ts';
import { CORNERS, perCorner } from '../../../core/corners.ts';
import { balanceWorked } from '../../../core/help/balanceWorked.ts';
import { patchWorked } from '../../../core/help/patchWorked.ts';
import { NOT_KNOWN, type Worked } from '../../../core/help/worked.ts';
import { patchEffects } from '../../../core/flatPatch/effect.ts';
import { levelPatch } from '../../../core/flatPatch/levelPatch.ts';
import { EXAMPLE_CAR, EXAMPLE_CAR_MASS } from '../../../core/sheet/car.ts';
import { kilogram, metre, metrePerSecond2 } from '../../../core/units.ts';
import {
  EXAMPLE_MASSES,
  exampleCorner,
  exampleFrame,
  exampleState,
} from '../../renderer/harness/scenes.ts';
import { LEVEL_PADS, padPoints, readSurvey } from '../flatPatch/simulatedPatch.ts';
import { createNoise } from '../signal/noise.ts';

/** A number as it stands in a text, its sign a minus of typographers. */
const numberIn = (text: string): number => Number.parseFloat(text.replace('−', '-'));
const of = (worked: readonly Worked[], what: RegExp | string) => {
  const found = worked.find((each) => each.what.match(what));
  if (!found) throw new Error(`nothing of ${String(what)}`);
  const put = (name: string): number =>
    numberIn(found.put.find((each) => each.name === name)?.value ?? '');
  return { ...found, given: put, number: numberIn(found.result) };
};

/** Seen by a reader: what is shown, put into the formula that is shown, gives what is shown. */
describe('balance', () => {
  const state = exampleState();
  const masses = perCorner((corner) => EXAMPLE_MASSES[corner]);
  const shown = balance({
    forces: perCorner((corner) => ({ value: masses[corner] * state.gravity, u: 0.1, dof: 50 })),
    gravity: state.gravity,
    cross: 'RF+LR',
    wheelbase: state.car.wheelbase,
    trackFront: state.car.trackFront,
    trackRear: state.car.trackRear,
  });
  const frame = exampleFrame({ stillness: 'settled', balance: shown }, (corner) =>
    exampleCorner(corner, { mean: masses[corner], stillness: 'settled' }),
  );
  const worked = balanceWorked(state, frame);

  test('the shown loads give the shown total, shares and centre of gravity', () => {
    const total = of(worked, 'Total');
    const [lf, rf, lr, rr] = CORNERS.map((corner) => total.given(corner)) as [
      number,
      number,
      number,
      number,
    ];
    const sum = lf + rf + lr + rr;
    expect(total.number).toBeCloseTo(sum, 1);
    expect(of(worked, 'Front').number).toBeCloseTo((100 * (lf + rf)) / sum, 2);
    expect(of(worked, 'Left').number).toBeCloseTo((100 * (lf + lr)) / sum, 2);
    expect(of(worked, 'Cross').number).toBeCloseTo((100 * (rf + lr)) / sum, 2);
    const behind = of(worked, /behind/u);
    expect(behind.number).toBeCloseTo((behind.given('wheelbase') * (lr + rr)) / sum, 0);
    const left = of(worked, /left of/u);
    const across =
      (left.given('front track') * (lf - rf) + left.given('rear track') * (lr - rr)) / 2 / sum;
    expect(Math.abs(left.number - across)).toBeLessThan(0.06);
  });

  test('a car that moves has no numbers, and that is said', () => {
    for (const each of balanceWorked(state, exampleFrame({ stillness: 'moving' }))) {
      expect(each.result).toMatch(/^not known until/u);
      expect(each.put[0]?.value).toBe(NOT_KNOWN);
    }
  });
});

describe('patch', () => {
  const car = { ...EXAMPLE_CAR, cgHeight: null };
  const about = {
    car,
    mass: EXAMPLE_CAR_MASS.mass,
    gravity: 9.80665,
    labels: 'LF RF LR RR',
    massUnit: 'kg',
  } as const;
  const patch = levelPatch(
    car,
    readSurvey(
      { ...LEVEL_PADS, RF: { ...LEVEL_PADS.RF, height: 0.001 } },
      { points: padPoints(5), repeats: 2, noise: createNoise(3), sd: 1e-5 },
    ),
  );
  if (!patch.ok) throw new Error(patch.why);
  const effects = patchEffects(
    {
      car,
      mass: kilogram(about.mass),
      frontShare: EXAMPLE_CAR_MASS.frontShare,
      cgLeft: metre(EXAMPLE_CAR_MASS.cgLeft),
      gravity: metrePerSecond2(about.gravity),
    },
    patch.heights,
  );
  const worked = patchWorked({ ...about, patch, effects });

  test('heights give the twist, the twist gives the load, the loads give the cross', () => {
    const twist = of(worked, 'Twist');
    const h = (corner: string): number => twist.given(`height ${corner}`);
    const ratio = twist.given('front track') / twist.given('rear track');
    expect(twist.number).toBeCloseTo(h('LF') - h('RF') - ratio * (h('LR') - h('RR')), 2);
    const load = of(worked, 'Load of the twist');
    const kg = (load.given('twist') * load.given('warp stiffness')) / load.given('gravity');
    expect(load.number).toBeCloseTo(kg, 1);
    // The design's value for 1 mm: 42.235 N on a front corner.
    expect(load.number).toBeCloseTo(-42.235 / 9.80665, 1);
    const cross = of(worked, 'Cross by the patch');
    const gained = cross.given('RF gains') + cross.given('LR gains');
    expect(cross.number).toBeCloseTo((100 * gained) / cross.given('total'), 2);
  });

  test('without a survey nothing is made up', () => {
    for (const { result } of patchWorked({ ...about, patch: null, effects: null }))
      expect(result).toBe('not known without a survey');
  });
});
