import { describe, expect, test } from 'vitest';
import type { Adjuster } from '../../../core/adjust/adjuster.ts';
import type { CallProgress } from '../../../core/adjust/progress.ts';
import { guestCall, guestView } from '../../../core/bench/guestView.ts';
import { guestViewSchema } from '../../../core/contract/guestView.ts';
import { DEFAULT_SETTINGS } from '../../../core/contract/settings.ts';
import { exampleFrame } from '../../renderer/harness/scenes.ts';

const ADJUSTER: Adjuster = {
  corner: 'RF',
  kind: 'perch',
  pitches: [0.0015],
  motionRatio: 0.9,
  stepsPerTurn: 4,
  countedIn: 'turns',
  underLoad: true,
  room: null,
};
const CALL = { corner: 'RF', steps: 3, turns: 0.75 } as const;

const progress = (change: Partial<CallProgress>): CallProgress => ({
  ok: true,
  verdict: 'under way',
  turns: 0.25,
  u: 0.02,
  share: 1 / 3,
  remaining: 0.5,
  resolves: true,
  alike: [],
  hand: null,
  ...change,
});

describe('a call', () => {
  test.each<readonly [Partial<CallProgress>, string]>([
    [{ verdict: 'not begun', remaining: 0.75 }, 'Nothing has moved yet.'],
    [{}, '½ turn to go'],
    [{ remaining: 0.1 }, 'Nearly there.'],
    [{ verdict: 'reached', remaining: 0.02 }, 'Stop: reached.'],
    [{ verdict: 'reached', remaining: 0.2, resolves: false }, 'About there: count the thread.'],
    [{ verdict: 'over', remaining: -0.26 }, 'Too far: back ¼ turn.'],
    [{ verdict: 'over', remaining: -0.1 }, 'Too far: back a little.'],
    [{ verdict: 'wrong sense', remaining: 1 }, 'Wrong way or wrong corner: stop.'],
  ])('%j', (change, said) => {
    expect(guestCall(CALL, ADJUSTER, progress(change)).progress?.said).toBe(said);
  });

  test('up or down, as the crew counts it; nothing is said of progress without live loads', () => {
    expect(guestCall(CALL, ADJUSTER, null)).toEqual({
      corner: 'RF',
      way: 'up',
      turns: '¾ turn',
      progress: null,
    });
    const flats = { ...ADJUSTER, stepsPerTurn: 6, countedIn: 'flats' } as const;
    const down = { corner: 'LR', steps: -2, turns: -1 / 3 } as const;
    expect(guestCall(down, flats, null)).toMatchObject({ way: 'down', turns: '2 flats' });
  });
});

test('a view holds the call, four weights and the cross weight, and nothing else of the frame', () => {
  const call = guestCall(CALL, ADJUSTER, progress({}));
  const view = guestView(exampleFrame(), { settings: DEFAULT_SETTINGS, isPractice: true, call });
  expect(guestViewSchema.parse(JSON.parse(JSON.stringify(view)))).toEqual(view);
  expect(Object.keys(view.corners.LF)).toEqual([
    'status',
    'age',
    'mass',
    'stillness',
    'mean',
    'u',
    'overload',
    'zeroed',
  ]);
  // By hand, from the four weights of the invented car.
  expect(view.cross.share?.value).toBeCloseTo((307.464 + 344.789) / 1305, 5);
});

test('no share without four live corners; a pad without a calibration is told', () => {
  const about = { settings: DEFAULT_SETTINGS, isPractice: false, call: null };
  const view = guestView(
    exampleFrame({ balance: null }, (corner) => ({ calibrated: corner !== 'RR' })),
    about,
  );
  expect(view.cross).toEqual({ diagonal: 'RF+LR', share: null });
  expect(view.isCalibrated).toBe(false);
});
