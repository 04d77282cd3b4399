import { describe, expect, test } from 'vitest';
import { barPreload, type BarWeighing } from '../../../core/adjust/barPreload.ts';
import type { JointForces, Four } from '../../../core/balance/propagate.ts';
import { EXAMPLE_CAR, type Car } from '../../../core/sheet/car.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';
import { lusolve } from 'mathjs';
import { standingCar } from './exampleAdjust.ts';

const CAR: Car = { ...EXAMPLE_CAR, cgHeight: null, barRear: 40e3 };
const U = 0.3;
const joint = (values: Four): JointForces => ({
  values,
  covariance: Array.from({ length: 16 }, (_, i) => (i % 5 === 0 ? U ** 2 : 0)),
  dof: [60, 60, 60, 60],
});
const OFF: Four = [3064, 3015, 3381, 3337];

/**
 * Loads moved by a bar that pulls its wheels apart by d, written out and solved by mathjs: the body's
 * heave, pitch and roll from three equilibria, K with the bar, and the bar's own force.
 */
const shifted = (axle: 'front' | 'rear', d: number, other: 'off' | 'on'): number[] => {
  const f = axle === 'front' || other === 'on' ? CAR.barFront : 0;
  const r = axle === 'rear' || other === 'on' ? CAR.barRear : 0;
  const k = CAR.wheelRates;
  const stiffness = [
    [k.LF + f, -f, 0, 0],
    [-f, k.RF + f, 0, 0],
    [0, 0, k.LR + r, -r],
    [0, 0, -r, k.RR + r],
  ];
  const rows = [
    [1, 0, CAR.trackFront / 2],
    [1, 0, -CAR.trackFront / 2],
    [1, CAR.wheelbase, CAR.trackRear / 2],
    [1, CAR.wheelbase, -CAR.trackRear / 2],
  ];
  const push = axle === 'front' ? [f * d, -f * d, 0, 0] : [0, 0, r * d, -r * d];
  const matrix = [0, 1, 2].map((a) =>
    [0, 1, 2].map((b) =>
      rows.reduce(
        (sum, row, i) =>
          sum +
          (row[a] as number) *
            rows.reduce((s, each, j) => s + (stiffness[i]?.[j] as number) * (each[b] as number), 0),
        0,
      ),
    ),
  );
  const right = [0, 1, 2].map((a) =>
    rows.reduce((sum, row, i) => sum + (row[a] as number) * (push[i] as number), 0),
  );
  const solved: unknown = lusolve(matrix, right);
  if (!Array.isArray(solved)) throw new TypeError('the solver did not answer an array');
  const q = solved.map((row: unknown) => Number(Array.isArray(row) ? row[0] : row));
  return rows.map(
    (_, i) =>
      (push[i] as number) -
      rows.reduce(
        (sum, row, j) =>
          sum +
          (stiffness[i]?.[j] as number) *
            row.reduce((s, each, a) => s + each * (q[a] as number), 0),
        0,
      ),
  );
};

const weighing = (
  axle: 'front' | 'rear',
  d: number,
  change: Partial<BarWeighing> = {},
): BarWeighing => {
  const otherBar = change.otherBar ?? 'off';
  const shift = shifted(axle, d, otherBar);
  return {
    standing: standingCar(CAR),
    axle,
    off: joint(OFF),
    on: joint(OFF.map((load, i) => load + (shift[i] as number)) as unknown as Four),
    otherBar,
    linkRatio: 0.6,
    rateDoubt: 0.1,
    barEnd: 'above',
    ...change,
  };
};

describe('the link change that takes a bar’s preload out', () => {
  test.each([
    ['front', 2e-3, 'off'],
    ['front', -1e-3, 'on'],
    ['rear', 1.5e-3, 'off'],
    ['rear', 0.8e-3, 'on'],
  ] as const)('%s bar, %f m apart, the other bar %s', (axle, d, otherBar) => {
    const found = barPreload(weighing(axle, d, { otherBar }));
    if (!found.ok) throw new Error(found.why);
    expect(found.leftLink.value).toBeCloseTo(-0.6 * d, 8);
    expect(found.shift.value).toBeCloseTo(
      shifted(axle, d, otherBar)[axle === 'front' ? 0 : 2] as number,
      5,
    );
    expect(found.seen).toBe(true);
    expect(found.leftLink.u).toBeGreaterThan(0.1 * 0.6 * Math.abs(d));
  });
  test('with the bar below the link’s wheel end it is the other way round', () => {
    const found = barPreload(weighing('front', 2e-3, { barEnd: 'below' }));
    expect(found).toMatchObject({ ok: true });
    if (found.ok) expect(found.leftLink.value).toBeCloseTo(1.2e-3, 8);
  });
  test('its uncertainty is that of weighings with noise', () => {
    const random = createRandom(51);
    const values: number[] = [];
    let u = 0;
    for (let run = 0; run < 400; run += 1) {
      const exact = weighing('front', 1e-3, { rateDoubt: 0 });
      const noisy = (of: JointForces): JointForces =>
        joint(of.values.map((value) => value + U * random.normal()) as unknown as Four);
      const found = barPreload({ ...exact, off: noisy(exact.off), on: noisy(exact.on) });
      if (!found.ok) continue;
      values.push(found.leftLink.value);
      u = found.leftLink.u;
    }
    // One in a thousand is refused by chance.
    expect(values.length).toBeGreaterThan(395);
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const sd = Math.sqrt(
      values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1),
    );
    expect(u / sd).toBeGreaterThan(0.88);
    expect(u / sd).toBeLessThan(1.12);
    expect(Math.abs(mean + 0.6e-3)).toBeLessThan(4 * (sd / Math.sqrt(values.length)));
  });
  test('a shift within the noise is not called preload', () => {
    const found = barPreload(weighing('front', 2e-6));
    expect(found).toMatchObject({ ok: true, seen: false });
  });
});

describe('refusals', () => {
  test.each<[string, Partial<BarWeighing>]>([
    ['no bar', { standing: standingCar({ ...CAR, barFront: 0 }) }],
    ['no motion ratio', { linkRatio: 0 }],
    ['something else changed', { on: joint([3064, 3015, 3381, 3347]) }],
    ['no reading', { off: { ...joint(OFF), covariance: new Array<number>(16).fill(-1) } }],
  ])('%s', (code, change) => {
    expect(barPreload(weighing('front', 1e-3, change))).toMatchObject({ ok: false, code });
  });
});
