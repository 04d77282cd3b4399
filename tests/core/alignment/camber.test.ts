import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { camber, type Camber, type CamberReading } from '../../../core/alignment/camber.ts';
import { halfTurn } from '../../../core/alignment/halfTurn.ts';
import { measured, type Measured } from '../../../core/measured.ts';
import { DEGREE, rotateByMatrix, wheelByMatrix } from './rotateByMatrix.ts';

const deg = (value: number, u = 0.02): Measured => measured(value * DEGREE, u * DEGREE, 20);

const plain: CamberReading = {
  side: 'left',
  reading: deg(-3),
  turned: null,
  zero: deg(0),
  datum: 'patch',
  slope: null,
};

const result = (
  change: Partial<CamberReading>,
): Camber & { readonly warnings: readonly string[] } => {
  const outcome = camber({ ...plain, ...change });
  if (!outcome.ok) throw new Error(outcome.why);
  return { ...outcome.result, warnings: outcome.warnings };
};

describe('camber from gauge readings', () => {
  test('the zero of the gauge is taken off, with its uncertainty', () => {
    const found = result({ zero: deg(0.15, 0.015) });
    expect(found.camber.value / DEGREE).toBeCloseTo(-3.15, 12);
    // By hand: 0.02 and 0.015 in quadrature.
    expect(found.camber.u / DEGREE).toBeCloseTo(0.025, 9);
    expect(found.warnings).toEqual([]);
  });

  test('turned round, the bias goes out of the reading and is known: a true −2.8° with 0.2° of bias', () => {
    const found = result({ reading: deg(-2.6), turned: deg(3), zero: null });
    expect(found.camber.value / DEGREE).toBeCloseTo(-2.8, 12);
    expect((found.bias?.value ?? 0) / DEGREE).toBeCloseTo(0.2, 12);
    expect(found.camber.u / DEGREE).toBeCloseTo(0.02 / Math.SQRT2, 9);
  });

  test('against the vertical, the lean of the ground is in the reading, as a matrix leans the car', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('left' as const, 'right' as const),
        fc.double({ min: -6, max: 3, noNaN: true }),
        fc.double({ min: -1.5, max: 1.5, noNaN: true }),
        (side, own, slope) => {
          const wheel = wheelByMatrix(side, { camber: own * DEGREE, toe: 0 });
          // Ground that rises to the left: the car turned about x, left side up.
          const [, , down] = rotateByMatrix(slope * DEGREE, [1, 0, 0], wheel.axis);
          const byGravity = -Math.asin(down) / DEGREE;
          const found = result({
            side,
            reading: deg(byGravity),
            datum: 'gravity',
            slope: deg(slope),
          });
          expect(found.camber.value / DEGREE).toBeCloseTo(own, 9);
          expect(found.datum).toBe('patch');
        },
      ),
      { seed: 4, numRuns: 200 },
    );
  });

  test('mirroring the car mirrors the slope and leaves the camber', () => {
    const one = result({ side: 'left', datum: 'gravity', slope: deg(0.4) });
    const other = result({ side: 'right', datum: 'gravity', slope: deg(-0.4) });
    expect(other.camber).toEqual(one.camber);
  });

  test('what is not known is said: the zero, the slope', () => {
    const found = result({ zero: null, datum: 'gravity' });
    expect(found).toMatchObject({ bias: null, datum: 'gravity' });
    expect(found.warnings.join(' ')).toMatch(/zero of the gauge.*against the vertical/u);
  });

  test('a gauge that was not turned round, and a zero that is not the one, are named', () => {
    const unturned = result({ reading: deg(-3), turned: deg(-3), zero: null });
    expect(unturned.warnings[0]).toContain('turn the gauge round');
    const stale = result({ reading: deg(-2.6), turned: deg(3), zero: deg(0) });
    expect(stale.warnings[0]).toContain('Zero the gauge again');
  });

  test('a camber of minutes typed as degrees is refused', () => {
    expect(camber({ ...plain, reading: deg(-180) })).toMatchObject({ ok: false });
  });
});

describe('run-out', () => {
  test('half a turn on it changes sign: the mean is free of it', () => {
    const found = halfTurn(deg(-3.1), deg(-2.9));
    expect(found.value.value / DEGREE).toBeCloseTo(-3, 12);
    expect(found.runOut.value / DEGREE).toBeCloseTo(-0.1, 12);
    expect(found.value.u / DEGREE).toBeCloseTo(0.02 / Math.SQRT2, 12);
    expect(found.value.dof).toBeCloseTo(40, 9);
  });

  test('as matrices turn a hub whose face is 0.1° out of true', () => {
    // The face's normal leans by 0.1° against the wheel's axis, and goes round with it.
    const read = (rolled: number): number => {
      const tilted = rotateByMatrix(-0.1 * DEGREE, [1, 0, 0], [0, 1, 0]);
      const rolledOn = rotateByMatrix(rolled, [0, 1, 0], tilted);
      return -Math.asin(rotateByMatrix(3 * DEGREE, [1, 0, 0], rolledOn)[2]) / DEGREE;
    };
    const found = halfTurn(deg(read(0)), deg(read(Math.PI)));
    expect(found.value.value / DEGREE).toBeCloseTo(-3, 9);
    expect(found.runOut.value / DEGREE).toBeCloseTo(0.1, 9);
  });
});
