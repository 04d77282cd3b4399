import { describe, expect, test } from 'vitest';
import { bumpSteer } from '../../../core/alignment/bumpSteer.ts';
import { rackCentre } from '../../../core/alignment/rackCentre.ts';
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
