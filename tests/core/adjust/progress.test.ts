import { describe, expect, test } from 'vitest';
import { callProgress, watchCall, type CallProgress } from '../../../core/adjust/progress.ts';
import { statics } from '../../../core/adjust/statics.ts';
import { warpWeights } from '../../../core/adjust/warpReading.ts';
import { whichCorner } from '../../../core/adjust/whichCorner.ts';
import { overWheels } from '../../../core/adjust/heightPoint.ts';
import { predictChange, type TurnResponse } from '../../../core/adjust/turnResponse.ts';
import { CORNERS, perCorner, type Corner, type PerCorner } from '../../../core/corners.ts';
import { measured, type Measured } from '../../../core/measured.ts';
import {
  FLAT_CAR,
  FRICTION,
  NONE,
  readingAt,
  responseOf,
  sixths,
  standingCar,
} from './exampleAdjust.ts';

/** A response learnt to a few percent. */
const learnt: TurnResponse = {
  ...responseOf(),
  covariance: responseOf().covariance.map((value) => value / 100),
};
const CALL = { corner: 'RF', steps: 6, turns: 1 } as const;

const watch = (response = learnt, friction = FRICTION) => {
  const call = CALL;
  const watched = watchCall({
    call,
    adjuster: sixths()[call.corner],
    response,
    before: readingAt(NONE),
    friction,
  });
  if ('ok' in watched) throw new Error(watched.why);
  return watched;
};
const loadsAfter = (
  turns: Partial<Record<Corner, number>>,
  push: PerCorner<number> = NONE,
): PerCorner<Measured> => {
  const seats = perCorner(
    (corner) => ((turns[corner] ?? 0) * 1.5e-3) / FLAT_CAR.motionRatios[corner],
  );
  const { loads } = statics(standingCar(), { seats, pads: NONE, bars: 'off' });
  return perCorner((corner) => measured(loads[corner] + push[corner], 0.3, 40));
};
const progress = (now: PerCorner<Measured | null>, response = learnt): CallProgress => {
  const found = callProgress(watch(response), now);
  if (!found.ok) throw new Error(found.why);
  return found;
};

describe('progress from the loads alone', () => {
  test.each([
    [0, 'not begun'],
    [0.5, 'under way'],
    [0.88, 'under way'],
    [0.97, 'reached'],
    [1, 'reached'],
    [1.06, 'reached'],
    [1.4, 'over'],
    [-0.3, 'wrong sense'],
  ] as const)('%f turns made of one: %s', (turns, verdict) => {
    const found = progress(loadsAfter({ RF: turns }));
    expect(found.verdict).toBe(verdict);
    expect(found.turns).toBeCloseTo(turns, 6);
    expect(found.share).toBeCloseTo(turns, 6);
    expect(found.remaining).toBeCloseTo(1 - turns, 6);
    expect(found.hand).toBeNull();
  });

  test('while the response is the data sheet’s, a step is not resolved and that is said', () => {
    const found = progress(loadsAfter({ RF: 1.1 }), responseOf());
    expect(found).toMatchObject({ verdict: 'reached', resolves: false });
    // Learnt to a few percent it is, but for the friction held until the car has settled.
    const now = loadsAfter({ RF: 1 });
    expect(callProgress(watch(learnt, NONE), now)).toMatchObject({ resolves: true });
    expect(callProgress(watch(learnt), now)).toMatchObject({ resolves: false });
    expect(found.u).toBeGreaterThan(0.2);
  });

  test.each<[string, Partial<Record<Corner, number>>]>([
    ['the called corner the wrong way', { RF: -0.5 }],
    ['the other side the called way', { LF: 0.5 }],
    ['the other end of the same side', { RR: 0.5 }],
    ['the diagonal the wrong way', { LR: -0.5 }],
  ])('wrong sense: %s', (_, turns) => {
    const found = progress(loadsAfter(turns), responseOf());
    expect(found.verdict).toBe('wrong sense');
    expect(found.alike).toEqual([
      { corner: 'RF', way: 'down' },
      { corner: 'LF', way: 'up' },
      { corner: 'LR', way: 'down' },
      { corner: 'RR', way: 'up' },
    ]);
  });

  test('the diagonal up is not told from the called corner', () => {
    const found = progress(loadsAfter({ LR: 0.5 * (0.9 / 0.95) }));
    expect(found.verdict).toBe('under way');
    expect(found.turns).toBeCloseTo(0.5, 1);
    expect(found.alike.map(({ corner, way }) => `${corner} ${way}`)).toContain('LR up');
  });

  test('a hand on the car is seen as such and not as turns', () => {
    // Somebody lays 200 N on the left rear corner: the body sinks, the pads carry it by statics.
    const { rise } = statics(standingCar(), { seats: NONE, pads: NONE, bars: 'off' });
    expect(Math.abs(rise.LR)).toBeLessThan(1e-12);
    const at = [0, 0.2];
    const [x, y] = [-2.7 + (at[0] as number), 0.8];
    // Heave, pitch and roll under 200 N at (x, y), by the three equations written out.
    const k = CORNERS.map((corner) => FLAT_CAR.wheelRates[corner]);
    const wheels = [
      [0, 0.84],
      [0, -0.84],
      [-2.7, 0.825],
      [-2.7, -0.825],
    ] as const;
    const shares = ((): number[] => {
      // By symmetry of the example car: heave and pitch at the middle line, roll by itself.
      const kf = (k[0] as number) * 2;
      const kr = (k[2] as number) * 2;
      const rear = (200 * -x) / 2.7;
      const front = 200 - rear;
      const sinkF = front / kf;
      const sinkR = rear / kr;
      const rollRate = kf * 0.84 ** 2 + kr * 0.825 ** 2;
      const roll = (200 * y) / rollRate;
      return wheels.map(([, wy], i) => (k[i] as number) * ((i < 2 ? sinkF : sinkR) + roll * wy));
    })();
    expect(shares.reduce((sum, each) => sum + each, 0)).toBeCloseTo(200, 6);
    const push = perCorner((_, i) => shares[i] as number);
    const found = progress(loadsAfter({ RF: 0.5 }, push));
    expect(found.hand).toBeCloseTo(200, 6);
    expect(found.turns).toBeCloseTo(0.5, 6);
    expect(found.verdict).toBe('under way');
  });

  test('the weights read the warp and nothing of a push, with a bar too', () => {
    for (const bars of ['off', 'on'] as const) {
      const response = responseOf({ ...FLAT_CAR, barRear: 40e3 }, sixths(), bars);
      const weights = warpWeights(response, response.logFactors);
      const { change } = predictChange(response, { ...NONE, LR: 1 });
      const read = weights.reduce((sum, w, i) => sum + w * (change[i] as number), 0);
      expect(read).toBeCloseTo(change[0] as number, 6);
      // Pads all up, or one end up, move the body and load nothing of the warp: K·A·q.
      const [f, r] = bars === 'on' ? [60e3, 40e3] : [0, 0];
      for (const q of [
        [1, 1, 1, 1],
        [0, 0, 1, 1],
        [0.84, -0.84, 0.825, -0.825],
      ]) {
        const forces = [
          180e3 * (q[0] as number) + f * ((q[0] as number) - (q[1] as number)),
          180e3 * (q[1] as number) - f * ((q[0] as number) - (q[1] as number)),
          165e3 * (q[2] as number) + r * ((q[2] as number) - (q[3] as number)),
          165e3 * (q[3] as number) - r * ((q[2] as number) - (q[3] as number)),
        ];
        const leak = weights.reduce((sum, w, i) => sum + w * (forces[i] as number), 0);
        expect(Math.abs(leak)).toBeLessThan(1e-8);
      }
    }
  });
});

describe('refusals', () => {
  test('a pad lost in the middle: the call stays, and goes on when it is back', () => {
    const watched = watch();
    const half = loadsAfter({ RF: 0.5 });
    const lost = callProgress(watched, { ...half, LR: null });
    expect(lost).toMatchObject({ ok: false, code: 'pad lost' });
    expect(lost.ok ? '' : lost.why).toContain('left rear');
    expect(callProgress(watched, half)).toMatchObject({ ok: true, verdict: 'under way' });
  });
  test('a corner without an adjuster', () => {
    const found = watchCall({
      call: CALL,
      adjuster: null,
      response: learnt,
      before: readingAt(NONE),
      friction: FRICTION,
    });
    expect(found).toMatchObject({ ok: false, code: 'no adjusters' });
  });
});

describe('which corner it was', () => {
  const tell = (turned: Corner, turns: number, measure: readonly Corner[]) => {
    const seats = { ...NONE, [turned]: (turns * 1.5e-3) / FLAT_CAR.motionRatios[turned] };
    const before = readingAt(NONE);
    const after = readingAt(seats);
    const weights = warpWeights(learnt, learnt.logFactors);
    const warp = weights.reduce(
      (sum, w, i) =>
        sum + w * ((after.loads.values[i] as number) - (before.loads.values[i] as number)),
      0,
    );
    return whichCorner({
      response: learnt,
      called: 'RF',
      warp,
      points: overWheels(FLAT_CAR),
      tolerances: [5e-4, 5e-4, 5e-4, 5e-4],
      rises: CORNERS.map((corner, i) =>
        measure.includes(corner)
          ? measured((after.heights[i]?.value ?? 0) - (before.heights[i]?.value ?? 0), 1e-4, 20)
          : null,
      ),
      friction: FRICTION,
    });
  };
  test('without a height nobody knows; which one to measure is said, and whether it matters', () => {
    const found = tell('RF', 1, []);
    expect(found.chances).toBeNull();
    expect(CORNERS[found.measure]).toBe('RF');
    // Design 6.2: RF up 1 mm: RF +0.77; LR up: RF −0.24. At 1.58 mm that is 1.6 mm, over 0.5 mm.
    expect(found.stake).toBeGreaterThan(2.5);
    expect(tell('RF', 0.1, []).stake).toBeLessThan(1);
  });
  test.each<Corner>(['RF', 'LR'])('one ride height names %s', (corner) => {
    const found = tell(corner, 1, ['RF']);
    expect(found.chances?.[corner]).toBeGreaterThan(corner === 'RF' ? 0.95 : 0.3);
    const both = tell(corner, 1, ['RF', 'LR']);
    expect(both.chances?.[corner]).toBeGreaterThan(0.98);
  });
});
