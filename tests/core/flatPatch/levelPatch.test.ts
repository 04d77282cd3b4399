import { inv, multiply, transpose } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { CORNERS, perCorner, type Corner } from '../../../core/corners.ts';
import { levelPatch, type LevelledPatch } from '../../../core/flatPatch/levelPatch.ts';
import type { LevelSurvey } from '../../../core/flatPatch/levelSurvey.ts';
import { padCentre, pointPlace } from '../../../core/flatPatch/network.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { studentT } from '../../../core/signal/studentT.ts';
import { createNoise } from '../signal/noise.ts';
import { LASER, LEVEL_PADS, MIDDLE, padPoints, readSurvey } from './simulatedPatch.ts';

const levelled = (survey: LevelSurvey): LevelledPatch => {
  const patch = levelPatch(EXAMPLE_CAR, survey);
  if (!patch.ok) throw new Error(`${patch.why} ${patch.next}`);
  return patch;
};

/**
 * A published adjustment: four points, levelled round forward and back, one height given. Sample and
 * output of GNU Gama 1.5.09, "Sample 1D vertical least square adjustment", vrmapper.com/gama/1doutput.html.
 * Every leg is a set-up of two sights here; all lengths are a tenth, as no patch is a metre out of level.
 */
describe('levelling as published', () => {
  const TENTH = 0.1;
  const POINT: Readonly<Record<string, Corner>> = { '1a': 'LF', '2': 'RF', '3': 'LR', '4': 'RR' };
  const LEGS = [
    ['1a', '4', -1.225],
    ['4', '3', -0.848],
    ['3', '2', 1.342],
    ['2', '1a', 0.72],
    ['1a', '2', -0.724],
    ['2', '3', -1.335],
    ['3', '4', 0.842],
    ['4', '1a', 1.231],
  ] as const;
  // 5 mm for a difference of height are 5/√2 for each of its two sights.
  const SIGHT = (0.005 * TENTH) / Math.SQRT2;
  const survey = (legs: number, stated: boolean): LevelSurvey => ({
    points: Object.entries(POINT).map(([id, pad]) => ({ id, pad, x: 0, y: 0 })),
    setUps: LEGS.slice(0, legs).map((_, i) => ({ id: String(i + 1), place: null })),
    sights: LEGS.slice(0, legs).flatMap(([from, to, rise], i) => [
      { setUp: String(i + 1), point: from, reading: 1 },
      { setUp: String(i + 1), point: to, reading: 1 - TENTH * rise },
    ]),
    instrument: { ...LASER, cone: null, tilt: null },
    sightScatter: stated ? { sd: SIGHT, dof: Infinity } : null,
  });
  const over1a = (patch: LevelledPatch, corner: Corner): number =>
    (patch.pads[corner].height.value - patch.pads.LF.height.value) / TENTH;
  const u1a = ({ heights }: LevelledPatch, corner: Corner): number => {
    const k = CORNERS.indexOf(corner);
    const c = (i: number, j: number): number => heights.scattered[i]?.[j] as number;
    return Math.sqrt(c(k, k) + c(0, 0) - 2 * c(0, k)) / TENTH;
  };

  test('adjusted heights and their standard deviations', () => {
    const patch = levelled(survey(8, true));
    expect(Math.abs(over1a(patch, 'RR') - (998.77513 - 1000))).toBeLessThan(6e-6);
    expect(Math.abs(over1a(patch, 'LR') - (997.93325 - 1000))).toBeLessThan(6e-6);
    expect(Math.abs(over1a(patch, 'RF') - (999.27487 - 1000))).toBeLessThan(6e-6);
    expect(u1a(patch, 'RR')).toBeCloseTo(0.0031, 4);
    expect(u1a(patch, 'LR')).toBeCloseTo(0.0035, 4);
    expect(u1a(patch, 'RF')).toBeCloseTo(0.0031, 4);
    expect(patch.leftOut).toEqual([]);
  });

  test('scatter a posteriori 5.42 mm on 5 degrees of freedom, largest normalised residual 1.68 at leg 6', () => {
    const { scatter, residuals } = levelled(survey(8, false));
    expect((scatter.sd * Math.SQRT2) / TENTH).toBeCloseTo(0.00542, 5);
    expect(scatter.dof).toBeCloseTo(5, 9);
    // Five of eight differences are redundant, alike by symmetry; half of it each sight's.
    const largest = residuals.map((each) => Math.abs(each ?? 0) / SIGHT / Math.sqrt(5 / 16));
    expect(Math.max(...largest)).toBeCloseTo(1.68, 2);
    expect(Math.floor(largest.indexOf(Math.max(...largest)) / 2)).toBe(5);
  });

  test('the forward run closes with −1.225 − 0.848 + 1.342 + 0.720 = −0.011 m', () => {
    const { closing } = levelled(survey(4, true));
    expect(closing).toHaveLength(1);
    expect(Math.abs(closing[0]?.error ?? 0) / TENTH).toBeCloseTo(0.011, 9);
    // Four differences of 5 mm: u is 10 mm, and 11 mm closes.
    expect((closing[0]?.u ?? 0) / TENTH).toBeCloseTo(0.01, 9);
    expect(closing[0]?.closes).toBe(true);
    expect(closing[0]?.setUps.toSorted()).toEqual(['1', '2', '3', '4']);
  });
});

/**
 * The same survey by mathjs in another form: cone and tilt are not unknowns but correlated errors of
 * the sights, V = s²·I + u_c²·d·dᵀ + …, and x = (AᵀV⁻¹A)⁻¹AᵀV⁻¹y.
 */
test('heights, twist and uncertainties as an independent general solver has them', () => {
  const points = padPoints(5);
  const setUps = [
    { id: 'A', place: { x: 0.5, y: 1.6 } },
    { id: 'B', place: { x: -3.2, y: -0.7 } },
  ];
  const [sd, cone, tilt] = [1e-4, 8e-5, 5e-5];
  const noise = createNoise(77);
  const survey = readSurvey(
    {
      LF: { height: 0.004, forward: 0.002, left: 0 },
      RF: { height: -0.001, forward: 0, left: 0.003 },
      LR: { height: 0, forward: -0.001, left: 0.001 },
      RR: { height: 0.002, forward: 0, left: 0 },
    },
    {
      points,
      repeats: 2,
      noise,
      sd,
      setUps,
      // The far pads are seen from one set-up only, the middle two from both.
      seen: (setUp, { pad }) => pad !== (setUp === 'A' ? 'RR' : 'LF'),
      instrument: { ...LASER, cone, tilt },
      cone: 6e-5,
      tilt: () => tilt * noise.normal(),
      sightScatter: { sd, dof: Infinity },
    },
  );
  const patch = levelled(survey);

  const rows = survey.sights.map((sight) => {
    const point = points.find(({ id }) => id === sight.point)!;
    const place = pointPlace(EXAMPLE_CAR, point);
    const stand = setUps.find(({ id }) => id === sight.setUp)!.place;
    const pad = CORNERS.flatMap((corner) =>
      corner === point.pad ? [-1, -point.x, -point.y] : [0, 0, 0],
    );
    return {
      reading: sight.reading!,
      over: [...pad, sight.setUp === 'B' ? 1 : 0],
      d: Math.hypot(place.x - stand.x, place.y - stand.y),
      ...place,
      setUp: sight.setUp,
    };
  });
  const V = rows.map((a, i) =>
    rows.map(
      (b, j) =>
        (i === j ? sd ** 2 : 0) +
        cone ** 2 * a.d * b.d +
        (a.setUp === b.setUp ? tilt ** 2 * (a.x * b.x + a.y * b.y) : 0),
    ),
  );
  const A = rows.map(({ over }) => over);
  const W = inv(V);
  const covariance = inv(multiply(multiply(transpose(A), W), A));
  const x = multiply(
    multiply(multiply(covariance, transpose(A)), W),
    rows.map(({ reading }) => reading),
  );
  const r = EXAMPLE_CAR.trackFront / EXAMPLE_CAR.trackRear;
  const n = [1, 0, 0, -1, 0, 0, -r, 0, 0, r, 0, 0, 0];
  const twist = n.reduce((sum, each, i) => sum + each * x[i]!, 0);
  const variance = n.reduce(
    (sum, a, i) => sum + n.reduce((row, b, j) => row + a * b * covariance[i]![j]!, 0),
    0,
  );
  expect(patch.twist.value).toBeCloseTo(twist, 10);
  expect(patch.twist.u / Math.sqrt(variance)).toBeCloseTo(1, 6);
  CORNERS.forEach((corner, k) => {
    const mean = (x[0]! + x[3]! + x[6]! + x[9]!) / 4;
    expect(patch.pads[corner].height.value).toBeCloseTo(x[3 * k]! - mean, 10);
    expect(patch.pads[corner].tilt?.forward.value).toBeCloseTo(x[3 * k + 1]!, 10);
    expect(patch.pads[corner].tilt?.left.u).toBeCloseTo(
      Math.sqrt(covariance[3 * k + 2]![3 * k + 2]!),
      10,
    );
  });
});

describe('what the instrument does', () => {
  const quiet = { points: padPoints(5), repeats: 2, sd: 1e-8 };

  test('a cone error does nothing to twist from anywhere on the centre line, nor to level from the middle', () => {
    const read = (x: number, y: number) =>
      levelled(
        readSurvey(LEVEL_PADS, {
          ...quiet,
          noise: createNoise(2),
          setUps: [{ id: '1', place: { x, y } }],
          cone: 1e-4,
        }),
      );
    expect(Math.abs(read(-0.4, 0).twist.value)).toBeLessThan(1e-7);
    expect(Math.abs(read(-0.4, 0).level.frontOverRear.value)).toBeGreaterThan(5e-5);
    // Distances are equal here: x = −(L² + (t_r² − t_f²)/4)/(2L), from Pythagoras.
    const x = -(2.7 ** 2 + (1.65 ** 2 - 1.68 ** 2) / 4) / 5.4;
    expect(Math.abs(read(x, 0).level.worst.value)).toBeLessThan(1e-6);
    expect(Math.abs(read(0, 0.84).twist.value)).toBeGreaterThan(2e-5);
  });

  test('an unknown cone error is found from two distances, and not from one set-up', () => {
    const setUps = [MIDDLE, { id: '2', place: { x: 2, y: 1 } }];
    const instrument = { ...LASER, cone: 'unknown' } as const;
    const how = { ...quiet, sd: 1e-5, instrument, cone: 9e-5 };
    const patch = levelled(readSurvey(LEVEL_PADS, { ...how, setUps, noise: createNoise(3) }));
    expect(Math.abs((patch.cone?.value ?? 0) - 9e-5)).toBeLessThan(4 * (patch.cone?.u ?? 0));
    expect(patch.cone?.u).toBeLessThan(2e-5);
    const same = [MIDDLE, { ...MIDDLE, id: '2' }];
    const from = levelPatch(
      EXAMPLE_CAR,
      readSurvey(LEVEL_PADS, {
        ...how,
        setUps: same,
        points: padPoints(1).map((point) => ({ ...point, x: 0, y: 0 })),
        noise: createNoise(3),
      }),
    );
    // Four distances, equal two by two, cannot tell the cone from front over rear.
    expect(from).toMatchObject({ ok: false, code: 'not determined' });
  });

  test('a whole tilt of the plane is level, not twist', () => {
    const patch = levelled(
      readSurvey(LEVEL_PADS, { ...quiet, noise: createNoise(4), tilt: () => 1e-3 }),
    );
    expect(Math.abs(patch.twist.value)).toBeLessThan(1e-7);
    expect(patch.level.worst.value).toBeCloseTo(-1e-3 * EXAMPLE_CAR.wheelbase, 6);
  });

  test('what nobody knows is said to be left out', () => {
    const patch = levelled(
      readSurvey(LEVEL_PADS, {
        ...quiet,
        noise: createNoise(5),
        instrument: { ...LASER, cone: null, tilt: null },
      }),
    );
    expect(patch.findings.map(({ code }) => code)).toEqual(['not counted']);
  });
});

describe('what the points show', () => {
  test('one point gives height and no tilt, two in a line none either, three a plane', () => {
    const of = (count: number) =>
      levelled(
        readSurvey(
          { ...LEVEL_PADS, LR: { height: 0.002, forward: 0.004, left: -0.003 } },
          { points: padPoints(count), repeats: 2, noise: createNoise(6), sd: 1e-7 },
        ),
      );
    expect(of(1).pads.LR.tilt).toBeNull();
    expect(of(2).pads.LR.tilt).toBeNull();
    expect(of(3).pads.LR.tilt?.forward.value).toBeCloseTo(0.004, 5);
    expect(of(3).pads.LR.tilt?.left.value).toBeCloseTo(-0.003, 5);
    for (const count of [1, 2, 3, 4, 5])
      expect(of(count).twist.value).toBeCloseTo(-0.002 * (168 / 165), 6);
  });

  test('a height and a staff say the same patch', () => {
    const pads = { ...LEVEL_PADS, RF: { height: 0.003, forward: 0, left: 0 } };
    const how = { points: padPoints(5), repeats: 2, sd: 1e-8 };
    const read = (reads: 'staff' | 'height') =>
      levelled(readSurvey(pads, { ...how, noise: createNoise(7), instrument: { ...LASER, reads } }))
        .twist.value;
    expect(read('height')).toBeCloseTo(read('staff'), 6);
    expect(read('height')).toBeCloseTo(-0.003, 6);
  });

  test('pads that are not plane widen the uncertainty, and the interval still holds in 93 to 97 %', () => {
    let held = 0;
    const runs = 600;
    for (let seed = 1; seed <= runs; seed += 1) {
      const noise = createNoise(seed);
      const survey = readSurvey(LEVEL_PADS, { points: padPoints(5), repeats: 3, noise, sd: 5e-5 });
      const dent = new Map(survey.points.map(({ id }) => [id, 2e-4 * noise.normal()]));
      const sights = survey.sights.map((sight) => ({
        ...sight,
        reading: (sight.reading ?? 0) + (dent.get(sight.point) ?? 0),
      }));
      const { twist } = levelled({ ...survey, sights });
      if (Math.abs(twist.value) <= studentT(0.05, twist.dof) * twist.u) held += 1;
    }
    expect(held / runs).toBeGreaterThan(0.93);
    expect(held / runs).toBeLessThan(0.97);
  });
});

test('pad centres are where the wheels stand', () => {
  expect(perCorner((corner) => padCentre(EXAMPLE_CAR, corner))).toEqual({
    LF: { x: 0, y: 0.84 },
    RF: { x: 0, y: -0.84 },
    LR: { x: -2.7, y: 0.825 },
    RR: { x: -2.7, y: -0.825 },
  });
});
