import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { turnedWheel, turnForSteer } from '../../../core/alignment/turnedWheel.ts';
import { DEGREE, seenByMatrix } from './rotateByMatrix.ts';

const angle = (low: number, high: number): fc.Arbitrary<number> =>
  fc.double({ min: low, max: high, noNaN: true }).map((degrees) => degrees * DEGREE);

const axes = fc.record({ caster: angle(-5, 15), inclination: angle(0, 20) });
const attitudes = fc.record({ camber: angle(-6, 3), toe: angle(-2, 2) });

describe('a wheel turned about its steering axis', () => {
  test('is what rotation matrices of a general library make of it, on both sides', () => {
    fc.assert(
      fc.property(axes, attitudes, angle(-45, 45), (axis, straight, out) => {
        const ours = turnedWheel(axis, straight, out);
        for (const [side, left] of [
          ['left', out],
          ['right', -out],
        ] as const) {
          const theirs = seenByMatrix(side, axis, straight, left);
          expect(ours.camber).toBeCloseTo(theirs.camber, 12);
          expect(ours.toe).toBeCloseTo(theirs.toe, 12);
          expect(ours.level).toBeCloseTo(theirs.level, 12);
        }
      }),
      { seed: 1, numRuns: 300 },
    );
  });

  // Reference values 5.8: caster, inclination, camber; camber at ±20° about the axis; steer seen there.
  test.each([
    [6, 0, 0, 2.048808842, -2.048808842, 19.899059, -19.899059],
    [6, 10, -1, 1.604525156, -2.430969792, 19.583446, -19.711475],
    [4, 12, -2.5, -0.457286581, -3.130771181, 19.625833, -19.738325],
    [7, 14, -3, 0.128066923, -4.50674049, 19.391898, -19.619282],
  ])('derived: caster %d°, inclination %d°, camber %d°', (caster, incl, camber, ...wanted) => {
    const axis = { caster: caster * DEGREE, inclination: incl * DEGREE };
    const straight = { camber: camber * DEGREE, toe: 0 };
    const out = turnedWheel(axis, straight, 20 * DEGREE);
    const inward = turnedWheel(axis, straight, -20 * DEGREE);
    expect(out.camber / DEGREE).toBeCloseTo(wanted[0], 8);
    expect(inward.camber / DEGREE).toBeCloseTo(wanted[1], 8);
    expect(-out.toe / DEGREE).toBeCloseTo(wanted[2], 5);
    expect(-inward.toe / DEGREE).toBeCloseTo(wanted[3], 5);
  });

  // Reference values 5.8: camber at ±20° on the turn plate.
  test.each([
    [6, 0, 0, 2.058768749, -2.058768749],
    [6, 10, -1, 1.670837672, -2.44211682],
    [4, 12, -2.5, -0.40578226, -3.129096487],
    [7, 14, -3, 0.249540165, -4.518299284],
    // Check value of the design, 6.7.
    [8, 10, -3, 0.351, -5.115],
  ])('on turn plates: %d°, %d°, %d°', (caster, incl, camber, out, inward) => {
    const axis = { caster: caster * DEGREE, inclination: incl * DEGREE };
    const straight = { camber: camber * DEGREE, toe: 0 };
    const at = (steer: number): number =>
      turnedWheel(axis, straight, turnForSteer(axis, straight, steer * DEGREE)!).camber / DEGREE;
    const digits = caster === 8 ? 3 : 8;
    expect(at(20)).toBeCloseTo(out, digits);
    expect(at(-20)).toBeCloseTo(inward, digits);
  });

  test('no turn leaves it as it stood; a turn and its steer undo one another', () => {
    fc.assert(
      fc.property(axes, attitudes, angle(-40, 40), (axis, straight, steer) => {
        const still = turnedWheel(axis, straight, 0);
        expect(still.camber).toBeCloseTo(straight.camber, 14);
        expect(still.toe).toBeCloseTo(straight.toe, 14);
        const turned = turnedWheel(axis, straight, turnForSteer(axis, straight, steer)!);
        expect(straight.toe - turned.toe).toBeCloseTo(steer, 12);
      }),
      { seed: 2, numRuns: 200 },
    );
  });
});
