import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { casterSweep, type Caster, type Sweep } from '../../../core/alignment/casterSweep.ts';
import { inclinationByLevel } from '../../../core/alignment/inclinationByLevel.ts';
import { turnForSteer } from '../../../core/alignment/turnedWheel.ts';
import { measured, type Measured } from '../../../core/measured.ts';
import { createNoise } from '../signal/noise.ts';
import { DEGREE, seenByMatrix } from './rotateByMatrix.ts';

const deg = (value: number, u = 0.05): Measured => measured(value * DEGREE, u * DEGREE, 20);

interface Truth {
  readonly caster: number;
  readonly inclination: number;
  readonly camber: number;
  readonly toe: number;
}

/** Gauges on a wheel that a matrix turns to the plate angles; degrees throughout. */
const sweepOf = (truth: Truth, out: number, inward: number) => {
  const axis = { caster: truth.caster * DEGREE, inclination: truth.inclination * DEGREE };
  const straight = { camber: truth.camber * DEGREE, toe: truth.toe * DEGREE };
  const seen = (steer: number) =>
    seenByMatrix('right', axis, straight, -turnForSteer(axis, straight, steer * DEGREE)!);
  return { out: seen(out), inward: seen(-inward) };
};

const read = (truth: Truth, out = 20, inward = 20): Sweep => {
  const seen = sweepOf(truth, out, inward);
  return {
    toedOut: { steer: deg(out), camber: deg(seen.out.camber / DEGREE) },
    toedIn: { steer: deg(inward), camber: deg(seen.inward.camber / DEGREE) },
    straight: { camber: deg(truth.camber), toe: deg(truth.toe, 0.01) },
  };
};

const result = (sweep: Sweep): Caster => {
  const outcome = casterSweep(sweep);
  if (!outcome.ok) throw new Error(outcome.why);
  return outcome.result;
};

describe('caster from a camber sweep', () => {
  test('check value of the design, 6.7: true caster 8° reads 7.991° by the formula', () => {
    const sweep: Sweep = {
      toedOut: { steer: deg(20), camber: deg(0.351) },
      toedIn: { steer: deg(20), camber: deg(-5.115) },
      straight: { camber: deg(-3), toe: deg(0) },
    };
    const { caster, inclination, byFormula } = result(sweep);
    expect(byFormula.value / DEGREE).toBeCloseTo(7.991, 3);
    expect(caster.value / DEGREE).toBeCloseTo(8, 2);
    expect(inclination?.value ?? 0).toBeCloseTo(10 * DEGREE, 3);
  });

  // Reference values 5.8, last table: the sine form with plate angles.
  test.each([
    [6, 0, 0, 6.019437],
    [6, 10, -1, 6.012737],
    [4, 12, -2.5, 3.981219],
    [7, 14, -3, 6.970114],
  ])('formula and exact: caster %d°, inclination %d°, camber %d°', (caster, incl, camber, sine) => {
    const sweep = read({ caster, inclination: incl, camber, toe: 0 });
    const answer = result(sweep);
    expect(answer.byFormula.value / DEGREE).toBeCloseTo(sine, 5);
    expect(answer.caster.value / DEGREE).toBeCloseTo(caster, 9);
    expect(answer.inclination?.value ?? 0).toBeCloseTo(incl * DEGREE, 9);
  });

  test('exact at any angles, unlike ones too; the formula errs as much as is said of it', () => {
    const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        fc.record({
          caster: between(-2, 14),
          inclination: between(0, 16),
          camber: between(-5, 2),
          toe: between(-1, 1),
        }),
        between(8, 35),
        between(8, 35),
        (truth, out, inward) => {
          const any = result(read(truth, out, inward));
          expect(any.caster.value / DEGREE).toBeCloseTo(truth.caster, 8);
          expect((any.inclination?.value ?? 0) / DEGREE).toBeCloseTo(truth.inclination, 7);
          const usual = result(read({ ...truth, toe: 0 }, 20, 20));
          const most = truth.caster <= 6 ? 0.11 : truth.caster <= 10 ? 0.24 : 0.46;
          expect(Math.abs(usual.byFormula.value / DEGREE - truth.caster)).toBeLessThan(most);
        },
      ),
      { seed: 3, numRuns: 300 },
    );
  });

  test('its uncertainty is the scatter of simulated gauges', () => {
    const truth = { caster: 8, inclination: 10, camber: -3, toe: 0.1 };
    const exact = read(truth);
    const noise = createNoise(11);
    const shaken = (value: Measured): Measured => ({
      ...value,
      value: value.value + value.u * noise.normal(),
    });
    const runs = Array.from({ length: 2000 }, () =>
      result({
        toedOut: { steer: shaken(exact.toedOut.steer), camber: shaken(exact.toedOut.camber) },
        toedIn: { steer: shaken(exact.toedIn.steer), camber: shaken(exact.toedIn.camber) },
        straight: exact.straight && {
          camber: shaken(exact.straight.camber),
          toe: shaken(exact.straight.toe),
        },
      }),
    );
    const sd = (values: readonly number[]): number => {
      const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
      return Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (values.length - 1));
    };
    const { caster, inclination } = result(exact);
    // 2,000 runs know a standard deviation to 1.6 %: four times that.
    expect(sd(runs.map((run) => run.caster.value)) / caster.u).toBeCloseTo(1, 1);
    const seen = sd(runs.map((run) => run.inclination?.value ?? 0));
    expect(Math.abs(seen / (inclination?.u ?? 0) - 1)).toBeLessThan(0.064);
    // A gauge good to 0.05° knows the inclination to a degree only: twenty times.
    expect((inclination?.u ?? 0) / DEGREE).toBeGreaterThan(0.8);
  });

  test('without the wheel straight ahead the formula alone is left, and it says so', () => {
    const outcome = casterSweep({
      ...read({ caster: 6, inclination: 10, camber: -1, toe: 0 }),
      straight: null,
    });
    expect(outcome).toMatchObject({ ok: true, result: { inclination: null } });
    expect(outcome.ok && outcome.warnings[0]).toContain('straight ahead');
  });

  test('what no sweep gives is refused', () => {
    const good = read({ caster: 6, inclination: 10, camber: -1, toe: 0 });
    const why = (sweep: Sweep): string => {
      const outcome = casterSweep(sweep);
      return outcome.ok ? 'accepted' : outcome.why;
    };
    expect(why({ ...good, toedIn: { ...good.toedIn, steer: deg(-20) } })).toContain('five degrees');
    expect(why({ ...good, toedIn: { ...good.toedIn, steer: deg(70) } })).toContain('that far');
    expect(why({ ...good, toedOut: { ...good.toedOut, camber: deg(45) } })).toContain('camber');
    expect(why({ ...good, toedOut: { ...good.toedOut, camber: deg(25) } })).toContain(
      'one steering axis',
    );
  });
});

describe('inclination by a level with the brake held', () => {
  const truth = { caster: 8, inclination: 10, camber: -3, toe: 0.1 };
  const seen = sweepOf(truth, 20, 18);
  const input = {
    toedOut: { steer: deg(20), level: deg(seen.out.level / DEGREE) },
    toedIn: { steer: deg(18), level: deg(seen.inward.level / DEGREE) },
    brakeHeld: true,
    caster: deg(truth.caster, 0.1),
    straight: { camber: deg(truth.camber), toe: deg(truth.toe, 0.01) },
  };

  test('recovers what rotation matrices turned, and is far better than the camber sweep', () => {
    const outcome = inclinationByLevel(input);
    if (!outcome.ok) throw new Error(outcome.why);
    expect(outcome.result.value / DEGREE).toBeCloseTo(10, 9);
    expect(outcome.result.u / DEGREE).toBeLessThan(0.15);
  });

  test('a wheel free to roll, a small turn and readings mixed up are refused', () => {
    expect(inclinationByLevel({ ...input, brakeHeld: false })).toMatchObject({ ok: false });
    expect(
      inclinationByLevel({ ...input, toedIn: { ...input.toedIn, steer: deg(2) } }),
    ).toMatchObject({ ok: false });
    expect(
      inclinationByLevel({ ...input, toedIn: { ...input.toedIn, level: deg(-40) } }),
    ).toMatchObject({ ok: false });
  });
});
