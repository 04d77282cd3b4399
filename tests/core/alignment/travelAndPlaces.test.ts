import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bumpSteer } from '../../../core/alignment/bumpSteer.ts';
import { leftRight } from '../../../core/alignment/leftRight.ts';
import { perchThreads } from '../../../core/alignment/perchThreads.ts';
import { rackCentre } from '../../../core/alignment/rackCentre.ts';
import { track } from '../../../core/alignment/track.ts';
import { wheelPlaces, type WheelPlacesInput } from '../../../core/alignment/wheelPlaces.ts';
import { perCorner } from '../../../core/corners.ts';
import { measured, type Measured } from '../../../core/measured.ts';
import { createNoise } from '../signal/noise.ts';

const m = (value: number, u = 1e-4): Measured => measured(value, u, 30);
const accepted = <T>(outcome: { ok: true; result: T } | { ok: false; why: string }): T => {
  if (!outcome.ok) throw new Error(outcome.why);
  return outcome.result;
};

describe('bump steer', () => {
  const at = [-0.02, -0.01, 0, 0.01, 0.02];
  const curve = (z: number): number => 0.001 + 0.05 * z - 1.2 * z ** 2;
  const readings = at.map((z) => ({ travel: m(z, 2e-4), angle: m(curve(z), 1e-4) }));

  test('slope and curvature of a planted parabola come back', () => {
    const found = accepted(bumpSteer(readings));
    expect(found.atRideHeight.value).toBeCloseTo(0.001, 12);
    expect(found.slope.value).toBeCloseTo(0.05, 10);
    expect(found.curvature.value).toBeCloseTo(-2.4, 8);
    expect(found.change(0.02).value).toBeCloseTo(curve(0.02) - curve(0), 12);
    // Slope of five equally spaced points: u/√Σz², the travel's part (0.05·0.2 mm) being a tenth of it.
    expect(found.slope.u).toBeCloseTo(1e-4 / Math.sqrt(1e-3), 4);
  });

  test('its uncertainty is the scatter of simulated readings, travel included', () => {
    const steep = at.map((z) => ({ travel: m(z, 5e-4), angle: m(0.4 * z, 1e-4) }));
    const noise = createNoise(31);
    const shake = (v: Measured): Measured => ({ ...v, value: v.value + v.u * noise.normal() });
    const slopes = Array.from({ length: 2000 }, () => {
      const fit = accepted(
        bumpSteer(
          steep.map(({ travel, angle }) => ({ travel: shake(travel), angle: shake(angle) })),
        ),
      );
      return fit.slope.value;
    });
    const mean = slopes.reduce((sum, s) => sum + s, 0) / slopes.length;
    const sd = Math.sqrt(slopes.reduce((sum, s) => sum + (s - mean) ** 2, 0) / slopes.length);
    // 2,000 runs know it to 1.6 %; four times that, and 1 % for the second order of the travel.
    expect(Math.abs(sd / accepted(bumpSteer(steep)).slope.u - 1)).toBeLessThan(0.075);
  });

  test('a reading off the curve is named by its number', () => {
    const bent = readings.map((each, i) => (i === 3 ? { ...each, angle: m(0.006) } : each));
    const outcome = bumpSteer(bent);
    expect(outcome.ok && outcome.warnings[0]).toContain('at height 4');
  });

  test('three heights, heights alike and a one-sided sweep are not passed over', () => {
    expect(bumpSteer(readings.slice(0, 3))).toMatchObject({ ok: false });
    const near = readings.map((each, i) => ({ ...each, travel: m(i * 1e-3) }));
    expect(bumpSteer(near)).toMatchObject({ ok: false });
    const bumpOnly = readings.map((each, i) => ({ ...each, travel: m(0.005 + i * 0.01) }));
    const outcome = bumpSteer(bumpOnly);
    expect(outcome.ok && outcome.warnings.join(' ')).toContain('one side of ride height');
  });
});

describe('the rack', () => {
  test('6 mm more of it out on the left is 3 mm to the left', () => {
    const found = accepted(rackCentre({ by: 'rods', rods: { left: m(0.206), right: m(0.2) } }));
    expect(found.value).toBeCloseTo(0.003, 12);
    expect(found.u).toBeCloseTo(1e-4 / Math.SQRT2, 12);
  });

  test('a drawn rack of ±60 mm, 2 mm off to the left, shows at its stops', () => {
    // Any smooth steering gear that is alike on both sides.
    const steer = (travel: number): number => Math.asin(travel / 0.12) + 0.5 * travel ** 2;
    const offset = 0.002;
    const locks = {
      left: m(steer(0.06 - offset), 5e-4),
      right: m(steer(0.06 + offset), 5e-4),
    };
    const perTravel = m((steer(0.061) - steer(0.059)) / 0.002, 0.2);
    const found = accepted(rackCentre({ by: 'locks', locks, perTravel, rack: 'ahead' }));
    expect(found.value).toBeCloseTo(offset, 5);
    const behind = accepted(rackCentre({ by: 'locks', locks, perTravel, rack: 'behind' }));
    expect(behind.value).toBeCloseTo(-found.value, 15);
    const mirrored = accepted(
      rackCentre({
        by: 'locks',
        locks: { left: locks.right, right: locks.left },
        perTravel,
        rack: 'ahead',
      }),
    );
    expect(mirrored.value).toBeCloseTo(-found.value, 15);
  });

  test('mixed units and signs are refused', () => {
    expect(rackCentre({ by: 'rods', rods: { left: m(0.206), right: m(8.1) } })).toMatchObject({
      ok: false,
    });
    expect(rackCentre({ by: 'rods', rods: { left: m(-0.2), right: m(0.2) } })).toMatchObject({
      ok: false,
    });
    const locks = { left: m(0.6), right: m(0.6) };
    expect(rackCentre({ by: 'locks', locks, perTravel: m(0), rack: 'ahead' })).toMatchObject({
      ok: false,
    });
  });
});

describe('wheelbase, setback and track', () => {
  /** Strings at ±1 m; bars whose left end is `shear` ahead of the right one; hubs drawn at (x, y). */
  const drawn = (x: readonly [number, number, number, number], shear: number): WheelPlacesInput => {
    const [front, rear, half] = [0.9, -3.6, 1];
    const bar = (at: number, left: 1 | -1): number => at + (left * shear) / 2;
    const sides = [1, -1, 1, -1] as const;
    const diagonal = (a: 1 | -1): Measured =>
      m(Math.hypot(bar(front, a) - bar(rear, a === 1 ? -1 : 1), 2 * half));
    return {
      behindBar: perCorner((_, i) => m(bar(front, sides[i]!) - x[i]!)),
      box: {
        leftFrontToRightRear: diagonal(1),
        rightFrontToLeftRear: diagonal(-1),
        barsApart: m(front - rear),
      },
    };
  };

  test('come back from a drawing, whatever the bars do', () => {
    const small = fc.double({ min: -0.02, max: 0.02, noNaN: true });
    fc.assert(
      fc.property(small, small, small, small, small, (a, b, c, d, shear) => {
        const x = [a, b, -2.7 + c, -2.7 + d] as const;
        const found = accepted(wheelPlaces(drawn(x, shear)));
        expect(found.wheelbaseLeft.value).toBeCloseTo(x[0] - x[2], 10);
        expect(found.wheelbaseRight.value).toBeCloseTo(x[1] - x[3], 10);
        expect(found.wheelbaseDifference.value).toBeCloseTo(x[0] - x[2] - x[1] + x[3], 10);
        // The left wheel behind the right one.
        expect(found.setbackFront?.value).toBeCloseTo(x[1] - x[0], 9);
        expect(found.setbackRear?.value).toBeCloseTo(x[3] - x[2], 9);
      }),
      { seed: 7, numRuns: 200 },
    );
  });

  test('without diagonals there is no setback, and it says so', () => {
    const outcome = wheelPlaces({ ...drawn([0, 0, -2.7, -2.7], 0), box: null });
    expect(outcome).toMatchObject({
      ok: true,
      result: { setbackFront: null, setbackRear: null },
      warnings: [expect.stringContaining('diagonals')],
    });
  });

  test('front and rear exchanged, and a side in another unit, are refused', () => {
    expect(wheelPlaces(drawn([-2.7, 0, 0, -2.7], 0))).toMatchObject({ ok: false });
    expect(wheelPlaces(drawn([0, 0, -2.7, -2.4], 0))).toMatchObject({ ok: false });
  });

  test('track: strings 2 m apart, 150 and 146 mm to faces 12 mm outboard of the middle', () => {
    const found = accepted(
      track({
        spacing: m(2),
        toFace: { left: m(0.15), right: m(0.146) },
        faceOutboardOfMiddle: { left: m(0.012, 0), right: m(0.012, 0) },
      }),
    );
    expect(found.value).toBeCloseTo(1.68, 12);
    expect(found.u).toBeCloseTo(1e-4 * Math.sqrt(3), 12);
  });

  test('a string through the wheels is refused', () => {
    const none = { left: m(0), right: m(0) };
    expect(track({ spacing: m(2), toFace: none, faceOutboardOfMiddle: none })).toMatchObject({
      ok: false,
    });
  });
});

describe('both sides of an axle', () => {
  test('sum and difference, mirrored with the car', () => {
    const one = accepted(leftRight({ left: m(0.02), right: m(0.018) }));
    expect(one.sum.value).toBeCloseTo(0.038, 12);
    expect(one.difference.value).toBeCloseTo(0.002, 12);
    expect(one.difference.u).toBeCloseTo(1e-4 * Math.SQRT2, 12);
    const other = accepted(leftRight({ left: m(0.018), right: m(0.02) }));
    expect(other.difference.value).toBe(-one.difference.value);
    expect(leftRight({ left: m(-0.1), right: m(0) })).toMatchObject({ ok: false });
  });

  test('12¼ threads of 1.5 mm, to a quarter', () => {
    const found = accepted(perchThreads({ threads: 12.25, step: 0.25, pitch: 0.0015 }));
    expect(found.value).toBeCloseTo(0.018375, 12);
    expect(found.u).toBeCloseTo((0.25 / Math.sqrt(12)) * 0.0015, 12);
    expect(perchThreads({ threads: 300, step: 1, pitch: 0.0015 })).toMatchObject({ ok: false });
    expect(perchThreads({ threads: 10, step: 1, pitch: 1.5 })).toMatchObject({ ok: false });
  });
});
