import { describe, expect, test } from 'vitest';
import { CORNERS, perCorner } from '../../../core/corners.ts';
import { planScrews, screwsLeft, type Foot } from '../../../core/flatPatch/screws.ts';
import { shapeOf } from '../../../core/flatPatch/heights.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { createNoise } from '../signal/noise.ts';

/** Feet 18 cm from the middle, M12 screws of 1.75 mm a turn (ISO 261). */
const foot = (name: string, x: number, y: number): Foot => ({
  name,
  x,
  y,
  pitch: 0.00175,
  up: 0.02,
  down: 0.02,
});
const FEET = [
  foot('1', 0.18, 0.18),
  foot('2', 0.18, -0.18),
  foot('3', -0.18, 0.18),
  foot('4', -0.18, -0.18),
];
const { wheelbase, trackFront, trackRear } = EXAMPLE_CAR;
const places = perCorner((corner) => ({
  x: corner === 'LF' || corner === 'RF' ? 0 : -wheelbase,
  y:
    ((corner === 'LF' || corner === 'RF' ? trackFront : trackRear) / 2) *
    (corner === 'LF' || corner === 'LR' ? 1 : -1),
}));
const about = { places, mostSlope: 0.0003, onlyUpward: false, step: 1 / 12, packers: [] } as const;
const flat = { feet: FEET, height: 0, forward: 0, left: 0 };

describe('screws', () => {
  test('a level patch needs none', () => {
    expect(planScrews({ ...about, pads: perCorner(() => flat) })).toMatchObject({
      ok: true,
      turns: [],
      work: 0,
    });
  });

  test('one pad 3.5 mm low: its four screws two turns up, and nothing else', () => {
    const plan = planScrews({
      ...about,
      pads: { ...perCorner(() => flat), RF: { ...flat, height: -0.0035 } },
    });
    if (!plan.ok) throw new Error(plan.why);
    expect(plan.turns).toHaveLength(4);
    for (const { pad, turns } of plan.turns) {
      expect(pad).toBe('RF');
      expect(turns).toBeCloseTo(2, 6);
    }
    expect(Math.abs(shapeOf(EXAMPLE_CAR, plan.heights).twist)).toBeLessThan(1e-9);
  });

  test('only upward: no screw goes down, and the twist still goes', () => {
    const plan = planScrews({
      ...about,
      onlyUpward: true,
      pads: { ...perCorner(() => flat), RF: { ...flat, height: 0.002 } },
    });
    if (!plan.ok) throw new Error(plan.why);
    expect(Math.min(...plan.turns.map(({ turns }) => turns))).toBeGreaterThan(0);
    // A twelfth of a turn is 0.15 mm at one foot, a quarter of that at the wheel.
    expect(Math.abs(shapeOf(EXAMPLE_CAR, plan.heights).twist)).toBeLessThan(2e-4);
  });

  test('out of the screws’ reach a packer is named; without packers it is refused with the pads', () => {
    const pads = { ...perCorner(() => flat), LR: { ...flat, height: -0.045 } };
    const refused = planScrews({ ...about, pads });
    expect(refused).toMatchObject({ ok: false });
    expect(refused.ok ? '' : `${refused.why} ${refused.next}`).toMatch(
      /45\.0 mm above LR.*under LR/,
    );
    const plan = planScrews({ ...about, pads, packers: [0.01, 0.02] });
    if (!plan.ok) throw new Error(plan.why);
    expect(plan.packers).toEqual([{ pad: 'LR', thickness: expect.any(Number) as number }]);
    expect(Math.abs(shapeOf(EXAMPLE_CAR, plan.heights).twist)).toBeLessThan(2e-4);
  });

  test('no plane on a grid around it needs less work, on 40 seeded patches', () => {
    const noise = createNoise(11);
    for (let seed = 0; seed < 40; seed += 1) {
      const pads = perCorner(() => ({
        feet: FEET,
        height: 0.004 * noise.normal(),
        forward: 0.002 * noise.normal(),
        left: 0.002 * noise.normal(),
      }));
      const plan = planScrews({ ...about, step: 1e-9, pads });
      if (!plan.ok) throw new Error(plan.why);
      const workAt = (h: number, a: number, b: number): number =>
        CORNERS.reduce(
          (sum, corner) =>
            sum +
            FEET.reduce((of, { x, y, pitch }) => {
              const pad = pads[corner];
              const z = pad.height + pad.forward * x + pad.left * y;
              const plane = h + a * (places[corner].x + x) + b * (places[corner].y + y);
              // Half a turn for going to a screw.
              return of + Math.abs(plane - z) / pitch + (Math.abs(plane - z) > 1e-9 ? 0.5 : 0);
            }, 0),
          0,
        );
      let least = Infinity;
      for (let h = -0.01; h <= 0.01; h += 0.0005)
        for (let a = -0.0003; a <= 0.00031; a += 0.0001)
          for (let b = -0.0003; b <= 0.00031; b += 0.0001) least = Math.min(least, workAt(h, a, b));
      expect(plan.work + 0.5 * plan.turns.length).toBeLessThanOrEqual(least + 1e-6);
    }
  });

  test('the fourth foot of a pad only follows, so that no pad wobbles, on 40 seeded patches', () => {
    const noise = createNoise(12);
    for (let seed = 0; seed < 40; seed += 1) {
      const pads = perCorner(() => ({
        feet: FEET,
        height: 0.004 * noise.normal(),
        forward: 0.002 * noise.normal(),
        left: 0.002 * noise.normal(),
      }));
      const plan = planScrews({ ...about, step: 1 / 8, pads });
      if (!plan.ok) throw new Error(plan.why);
      for (const pad of CORNERS) {
        const own = plan.turns.filter((turn) => turn.pad === pad);
        expect(own.filter(({ follows }) => follows).length).toBeLessThanOrEqual(1);
        const by = (name: string): number => own.find(({ foot: id }) => id === name)?.turns ?? 0;
        // Feet 1 and 4, 2 and 3 stand on the diagonals of a square: a rigid pad lifts both alike.
        expect(by('1') + by('4')).toBeCloseTo(by('2') + by('3'), 9);
        for (const { turns, follows } of own)
          if (!follows) expect(turns * 8).toBeCloseTo(Math.round(turns * 8), 9);
      }
      // What is wound down clears the way first, what follows upward comes last.
      const ranks = plan.turns.map(({ follows, turns }) => (follows ? Math.sign(turns) : 0));
      expect(ranks).toEqual(ranks.toSorted((a, b) => a - b));
    }
  });

  test('eighths of a turn leave no more twist than half a step makes, by the plane through the turned feet', () => {
    const noise = createNoise(13);
    const left: number[] = [];
    for (const feet of [FEET, FEET.slice(0, 3)])
      for (let seed = 0; seed < 40; seed += 1) {
        const pads = perCorner(() => ({ ...flat, feet, height: 0.004 * noise.normal() }));
        // Feet 2 and 3 are a diagonal: the middle lies halfway between them, with three feet or four.
        const plan = planScrews({ ...about, step: 1 / 8, pads, onlyUpward: seed % 2 === 0 });
        if (!plan.ok) throw new Error(plan.why);
        const heights = perCorner((pad) => {
          const by = (name: string): number =>
            plan.turns.find((turn) => turn.pad === pad && turn.foot === name)?.turns ?? 0;
          return pads[pad].height + (0.00175 * (by('2') + by('3'))) / 2;
        });
        left.push(Math.abs(shapeOf(EXAMPLE_CAR, heights).twist));
        expect(shapeOf(EXAMPLE_CAR, plan.heights).twist).toBeCloseTo(
          shapeOf(EXAMPLE_CAR, heights).twist,
          9,
        );
      }
    // A step is 0.219 mm at a foot and half of that at the wheel, times n: nearest is within half of it.
    expect(Math.max(...left)).toBeLessThan(5.6e-5);
  });

  test('the list shrinks as screws are done', () => {
    const turns = [
      { pad: 'RF', foot: '1', turns: 2 },
      { pad: 'RF', foot: '2', turns: 1 },
    ] as const;
    expect(screwsLeft(turns, [{ pad: 'RF', foot: '1' }])).toEqual([turns[1]]);
  });

  test('a pad on two feet is refused', () => {
    const plan = planScrews({
      ...about,
      pads: { ...perCorner(() => flat), LF: { ...flat, feet: FEET.slice(0, 2) } },
    });
    expect(plan).toMatchObject({ ok: false, why: 'LF: a pad stands on three or four feet.' });
  });
});
