import { describe, expect, test } from 'vitest';
import { causeId } from '../../../../core/compare/causes/cause.ts';
import { causeList, effectPerUnit, type Cause } from '../../../../core/compare/causes/causeList.ts';
import type { CauseCar } from '../../../../core/compare/causes/causeCar.ts';
import { CORNERS } from '../../../../core/corners.ts';
import { STANDARD_GRAVITY } from '../../../../core/units.ts';
import { createRandom } from '../../../../drivers/pads/rig/random.ts';
import { benchOf } from '../../../studies/causesBench.ts';
import { changeBetween, plant } from '../../../studies/causesPlant.ts';
import { rigCar } from '../../../studies/causesRig.ts';
import { HERON, heronItems } from './heron.ts';

const withBar = (rate: number): CauseCar => ({
  ...HERON,
  bars: 'on',
  standing: { ...HERON.standing, car: { ...HERON.standing.car, barFront: rate } },
});

const find = (causes: readonly Cause[], id: string): Cause => {
  const cause = causes.find(({ what }) => causeId(what) === id);
  if (!cause) throw new Error(`no cause ${id}`);
  return cause;
};

const close = (found: readonly number[], wanted: readonly number[], digits: number): void =>
  wanted.forEach((value, index) => expect(found[index]).toBeCloseTo(value, digits));

describe('the check values of a seat', () => {
  const items = heronItems('plane');

  test('RF up 1 mm at the wheel, bars off: loads and rise of the body', () => {
    const { signature } = find(causeList(items, HERON), 'strut RF');
    const millimetre = signature.map((entry) => entry * 1e-3);
    close(
      millimetre.slice(0, 4).map((kg) => kg * STANDARD_GRAVITY),
      [-42.235, 42.235, 43.003, -43.003],
      3,
    );
    close(
      millimetre.slice(4, 8).map((m) => m * 1e3),
      [0.235, 0.765, -0.261, 0.261],
      3,
    );
  });

  test('with a chassis of 25 kN·m/deg', () => {
    const soft: CauseCar = {
      ...HERON,
      standing: {
        ...HERON.standing,
        car: { ...HERON.standing.car, chassisStiffness: (25e3 * 180) / Math.PI },
      },
    };
    const { signature } = find(causeList(items, soft), 'strut RF');
    close(
      signature.slice(0, 4).map((kg) => kg * 1e-3 * STANDARD_GRAVITY),
      [-38.99, 38.99, 39.699, -39.699],
      3,
    );
  });

  test.each([
    [60e3, 3.181, 5.302],
    [120e3, 2.522, 5.885],
  ])('with a front bar of %f N/m a seat and a pad differ', (rate, seat, pad) => {
    const causes = causeList(items, withBar(rate));
    expect((find(causes, 'strut RF').signature[1] as number) * 1e-3).toBeCloseTo(seat, 3);
    expect((find(causes, 'pad height RF').signature[1] as number) * 1e-3).toBeCloseTo(pad, 3);
  });

  test('fuel keeps the moments: total and centre of gravity', () => {
    const { signature } = find(causeList(items, HERON), 'fuel tank');
    const [lf, rf, lr, rr] = signature as [number, number, number, number];
    expect(lf + rf + lr + rr).toBeCloseTo(1, 12);
    expect((lr + rr) * 2.7).toBeCloseTo(1.7, 12);
    expect(((lf - rf) * 1.68) / 2 + ((lr - rr) * 1.65) / 2).toBeCloseTo(0, 12);
    // Everything sinks.
    for (const height of signature.slice(4, 8)) expect(height).toBeLessThan(0);
  });

  test('5 mm of rake take 0.106 degrees of caster', () => {
    const caster = [
      ...items,
      { id: 'caster LF', measures: { what: 'caster', corner: 'LF' } as const },
    ];
    const lift = ['LR', 'RR'].map(
      (corner) => find(causeList(caster, HERON), `strut ${corner}`).signature,
    ) as [readonly number[], readonly number[]];
    const sum = lift[0].map((entry, index) => entry + (lift[1][index] as number));
    const rake = (sum[6] as number) - (sum[4] as number);
    const degrees = ((sum.at(-1) as number) * 180) / Math.PI;
    expect((degrees / rake) * 0.005).toBeCloseTo(-0.1061, 4);
  });
});

describe('signatures are one and the same', () => {
  const same = (a: Cause, b: Cause, sign = 1): void =>
    a.signature.forEach((entry, index) =>
      expect(entry).toBeCloseTo(sign * (b.signature[index] as number), 9),
    );

  test.each(CORNERS)('%s seat, pad height from one plane and set-up wheel, bars off', (corner) => {
    const causes = causeList(heronItems('plane'), HERON);
    same(find(causes, `strut ${corner}`), find(causes, `pad height ${corner}`));
    same(find(causes, `strut ${corner}`), find(causes, `wheel ${corner}`));
  });

  test('all pad heights, with heights from the pads over the wheels, and chassis twist', () => {
    const causes = causeList(heronItems('pads'), HERON);
    const twist = find(causes, 'twist');
    const n = [1, -1, -1.68 / 1.65, 1.68 / 1.65];
    CORNERS.forEach((corner, k) => {
      const pad = find(causes, `pad height ${corner}`);
      // Twist of the patch and of the chassis are seen from either side: opposite signs.
      pad.signature
        .slice(0, 4)
        .forEach((entry, index) =>
          expect(entry).toBeCloseTo(-(n[k] as number) * (twist.signature[index] as number), 6),
        );
      pad.signature
        .slice(4, 8)
        .forEach((entry, index) =>
          expect(entry).toBeCloseTo(-(n[k] as number) * (twist.signature[4 + index] as number), 9),
        );
    });
  });

  test('front bar preload and both front seats opposed', () => {
    const causes = causeList(heronItems('plane'), withBar(60e3));
    const [left, right] = [find(causes, 'strut LF'), find(causes, 'strut RF')];
    const seat = STANDARD_GRAVITY / 180e3;
    find(causes, 'bar front').signature.forEach((entry, index) =>
      expect(entry).toBeCloseTo(
        seat * ((left.signature[index] as number) - (right.signature[index] as number)),
        9,
      ),
    );
  });
});

/**
 * Every cause in cars of chance, against a car written a second time that knows nothing of signatures:
 * absolute heights, whole compressions, solved by a general-purpose library.
 */
test.each([1, 2, 3, 4, 5, 6])('signatures against another solution, car %i', (seed) => {
  const drawn = rigCar(createRandom(seed, 61), 'all');
  const { truth } = drawn;
  const { standing } = drawn.believed;
  const [LF, RF, LR, RR] = truth.rates;
  // The crew knows the rates as they are: only the mathematics is compared.
  const rig = {
    ...drawn,
    believed: {
      ...drawn.believed,
      standing: {
        ...standing,
        car: {
          ...standing.car,
          wheelRates: { LF, RF, LR, RR },
          barFront: truth.bars[0],
          barRear: truth.bars[1],
          chassisStiffness: standing.car.chassisStiffness === null ? null : truth.chassis,
        },
      },
    },
  };
  const bench = benchOf(rig);
  const silent = {
    ...rig,
    friction: 0,
    items: rig.items.map((item) => ({ ...item, own: 0 })),
  };
  for (const { cause } of bench.classes.flat()) {
    // Its size is what the radii make it; its signature is that of two wheels.
    if (cause.what.kind === 'wheels exchanged') continue;
    const size = cause.most / 100;
    const planted = plant(silent, cause.what, size, 0);
    const found = bench.whiten(changeBetween(silent, [planted], planted.car, createRandom(1)));
    const wanted = bench.whiten(cause.signature.map((entry) => entry * size));
    const error = Math.hypot(...found.map((entry, index) => entry - (wanted[index] as number)));
    // A chassis that twists answers to a mass moved across by where along it that was: under 1 %.
    expect(error / Math.hypot(...found), causeId(cause.what)).toBeLessThan(0.01);
  }
});

test('a known change is a size times the effect of one unit', () => {
  const items = heronItems('plane');
  const effect = effectPerUnit(items, HERON, { kind: 'strut', corner: 'RF' });
  expect((effect['corner weight RF'] as number) * 1e-3).toBeCloseTo(42.235 / STANDARD_GRAVITY, 4);
  expect(effect['toe RF']).toBeCloseTo(0, 12);
  expect(Object.keys(effect)).toEqual(items.map(({ id }) => id));
});

test('bump steer and camber gain reach the wheels that travel', () => {
  const each = { LF: 2, RF: 2, LR: -1, RR: -1 };
  const causes = causeList(heronItems('plane'), { ...HERON, bumpSteer: each, camberGain: each });
  const { signature } = find(causes, 'strut RF');
  // The body rises 0.765 mm over RF: that much droop; toe follows by its own rate.
  expect(signature[13] as number).toBeCloseTo(-2 * 0.765, 2);
  const rolled = (0.235 - 0.765) / 1.68;
  expect(signature[9] as number).toBeCloseTo(rolled - 2 * 0.765, 2);
  expect(signature[8] as number).toBeCloseTo(-rolled - 2 * 0.235, 2);
});
