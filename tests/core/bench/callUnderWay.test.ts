import { describe, expect, test } from 'vitest';
import { createCallUnderWay } from '../../../core/bench/callUnderWay.ts';
import type { Adjustment } from '../../../core/contract/adjustment.ts';
import type { Frame } from '../../../core/contract/events.ts';
import type { KeptOf } from '../../../core/contract/kept.ts';
import { CORNERS, inOrder, perCorner } from '../../../core/corners.ts';
import { EXAMPLE_CAR_DETAILS } from '../../../core/sheet/exampleCarDetails.ts';
import type { Car } from '../../../core/sheet/car.ts';
import { exampleFrame } from '../../renderer/harness/scenes.ts';
import { FLAT_CAR, NONE, readingAt, targetsOf } from '../adjust/exampleAdjust.ts';

const CAR: Car = {
  ...FLAT_CAR,
  details: {
    ...EXAMPLE_CAR_DETAILS,
    adjusters: perCorner(() => ({
      kind: 'perch' as const,
      pitches: [0.0015],
      motionRatio: null,
      stepsPerTurn: 4,
      countedIn: 'turns' as const,
      underLoad: true,
      room: null,
    })),
  },
};
const START = readingAt(NONE);
const CALL = { corner: 'RF', steps: 4, turns: 1 } as const;

const adjustment = (change: Partial<Adjustment> = {}): Adjustment => ({
  carId: CAR.id,
  targets: targetsOf(),
  bars: 'off',
  friction: 0,
  start: START,
  prior: null,
  rounds: [],
  choice: 'heights kept',
  open: { steps: [{ do: 'turn', call: CALL }, { do: 'judge' }], at: 0, settled: 'bounced' },
  learnt: null,
  isOver: false,
  ...change,
});
let no = 0;
const kept = (of: Adjustment): KeptOf<'adjustment'> => ({
  kind: 'adjustment',
  id: `adjustment-${(no += 1)}`,
  subject: 'one',
  at: 0,
  practice: false,
  adjustment: of,
});

/** The frame of the car with right front turned up so far: the loads by the statics. */
const turned = (turns: number): Frame => {
  const seats = { ...NONE, RF: (turns * 0.0015) / CAR.motionRatios.RF };
  const { loads, gravity } = readingAt(seats);
  return exampleFrame({}, (corner) => {
    const mean = (loads.values[CORNERS.indexOf(corner)] ?? Number.NaN) / gravity;
    return { mass: mean, mean, u: 0.02 };
  });
};
/** The records may be told anew while it runs, as they are on the bench. */
const callOf = (records: KeptOf<'adjustment'>[]) =>
  createCallUnderWay({ book: { newest: () => records as never }, memory: { car: CAR } });

describe('the call at work', () => {
  test('follows the loads to where it is reached', () => {
    expect(inOrder(perCorner((corner) => turned(0).corners[corner].mean))).toHaveLength(4);
    const call = callOf([kept(adjustment())]);
    expect(call(turned(0))).toMatchObject({ corner: 'RF', way: 'up', turns: '1 turn' });
    const half = call(turned(0.5))?.progress;
    expect(half?.verdict).toBe('under way');
    expect(half?.share).toBeCloseTo(0.5, 1);
    expect(call(turned(1))?.progress?.verdict).toBe('reached');
    expect(call(turned(-0.5))?.progress?.verdict).toBe('wrong sense');
  });

  test('is another as soon as the record is', () => {
    const records = [kept(adjustment())];
    const call = callOf(records);
    expect(call(turned(0))?.corner).toBe('RF');
    const left = { ...CALL, corner: 'LR' } as const;
    records[0] = kept(
      adjustment({ open: { steps: [{ do: 'turn', call: left }], at: 0, settled: 'bounced' } }),
    );
    expect(call(turned(0))?.corner).toBe('LR');
  });

  test.each<[string, Partial<Adjustment>]>([
    ['nothing was called', { open: null }],
    ['the turn is done', { open: { ...adjustment().open!, at: 1 } }],
    ['the adjustment is over', { isOver: true }],
    ['it is of another car', { carId: 'another' }],
  ])('none while %s', (_, change) => {
    expect(callOf([kept(adjustment(change))])(turned(0))).toBeNull();
  });

  test('no progress while the car is up or a pad is lost; the call stays', () => {
    const steps = [{ do: 'raise' as const }, { do: 'turn' as const, call: CALL }];
    const raised = callOf([kept(adjustment({ open: { steps, at: 1, settled: 'bounced' } }))]);
    expect(raised(turned(0.5))).toMatchObject({ corner: 'RF', progress: null });
    const frame = turned(0.5);
    const corners = { ...frame.corners, LR: { ...frame.corners.LR, status: 'stale' as const } };
    expect(callOf([kept(adjustment())])({ ...frame, corners })).toMatchObject({
      corner: 'RF',
      progress: null,
    });
  });
});
