import { describe, expect, test } from 'vitest';
import type { Adjuster } from '../../../core/adjust/adjuster.ts';
import type { BeyondTurns } from '../../../core/adjust/beyondTurns.ts';
import type { Disagreement } from '../../../core/adjust/disagreement.ts';
import type { Choice, Left } from '../../../core/adjust/plan.ts';
import type { CallProgress } from '../../../core/adjust/progress.ts';
import type { CornerTold } from '../../../core/adjust/whichCorner.ts';
import { adjustAnswer, type AdjustSeen } from '../../../core/answers/adjustAnswer.ts';
import { perCorner, type PerCorner } from '../../../core/corners.ts';
import { measured } from '../../../core/measured.ts';
import { NONE } from '../adjust/exampleAdjust.ts';

const quarters = (change: Partial<Adjuster> = {}): PerCorner<Adjuster> =>
  perCorner((corner) => ({
    corner,
    kind: 'perch',
    pitches: [1.5e-3],
    motionRatio: 0.95,
    stepsPerTurn: 4,
    countedIn: 'turns',
    underLoad: true,
    room: null,
    ...change,
  }));
const ADJUSTERS = quarters();
const POINTS = ['at the left front', 'at the right front', 'at the left rear', 'at the right rear'];

const said = (seen: AdjustSeen, unit: 'kg' | 'lb' = 'kg'): string => {
  const { text, tone } = adjustAnswer(seen, unit);
  return `${tone}: ${text.replaceAll('\u00A0', ' ')}`;
};

const left = (change: Partial<Left> = {}): Left => ({
  kind: 'cross',
  corner: null,
  point: null,
  off: 2e-4,
  u: 1e-4,
  tolerance: 1e-3,
  ...change,
});
const choice = (steps: Partial<PerCorner<number>>, change: Partial<Choice> = {}): Choice => ({
  ok: true,
  steps: { ...NONE, ...steps },
  turns: NONE,
  exactTurns: NONE,
  predicted: {} as Choice['predicted'],
  left: [left()],
  distance: 0.2,
  short: null,
  proved: true,
  ...change,
});
const planned = (
  of: Choice,
  beyond: readonly BeyondTurns[] = [],
  adjusters = ADJUSTERS,
): AdjustSeen => ({ at: 'planned', choice: of, adjusters, beyond, points: POINTS });

describe('a plan', () => {
  test.each<[string, AdjustSeen, string]>([
    [
      'two calls',
      planned(choice({ RF: 3, LR: 2 })),
      'calm: Right front up ¾ turn, then left rear up ½.',
    ],
    [
      'whole turns and down',
      planned(choice({ LF: -8, RF: 5, RR: -4 })),
      'calm: Left front down 2 turns, then right front up 1¼, then right rear down 1.',
    ],
    [
      'flats',
      planned(choice({ LF: -2, RR: 1 }), [], quarters({ stepsPerTurn: 6, countedIn: 'flats' })),
      'calm: Left front down 2 flats, then right rear up 1 flat.',
    ],
    ['nothing', planned(choice({})), 'calm: Nothing to turn: everything is within tolerance.'],
    [
      'steps too coarse',
      planned(choice({ RF: 4 }, { short: 'steps', left: [left({ off: -1.6e-3 })], distance: 1.6 })),
      'wait: Right front up 1 turn. That leaves cross 0.16 % off: the steps are too coarse.',
    ],
    [
      'the adjuster ends',
      planned(
        choice(
          { RF: 4 },
          {
            short: 'room',
            left: [left(), left({ kind: 'height', point: 2, off: 9e-4, tolerance: 3e-4 })],
          },
        ),
      ),
      'wait: Right front up 1 turn. That leaves ride height at the left rear 0.9 mm off: the adjusters end before.',
    ],
    [
      'nothing brings it nearer',
      planned(
        choice(
          {},
          {
            short: 'physics',
            left: [left({ kind: 'corner weight', corner: 'LF', off: -4, tolerance: 1 })],
          },
        ),
      ),
      'wait: No turn brings it nearer. That leaves left front 4.0 kg off: no turns reach it.',
    ],
    [
      'what no turn changes',
      planned(choice({}), [
        { kind: 'front share', now: 0.475, target: 0.48, mass: null, moment: 17.6 },
      ]),
      'wait: Nothing to turn: what turning can reach is within tolerance. Front stays 47.50 %: no turn changes it. For 48.00 % move ballast, fuel or parts forward, as 10 kg by 1.76 m.',
    ],
    [
      'the left share',
      planned(choice({ RF: 1 }), [
        { kind: 'left share', now: 0.505, target: 0.5, mass: null, moment: -10 },
      ]),
      'wait: Right front up ¼ turn. Left stays 50.50 %: no turn changes it. For 50.00 % move ballast, fuel or parts to the right, as 10 kg by 1.00 m.',
    ],
    [
      'the total',
      planned(choice({}), [{ kind: 'total', now: 1305, target: 1300, mass: -5, moment: null }]),
      'wait: Nothing to turn: what turning can reach is within tolerance. The total stays 1305.0 kg: turning moves load, it makes none. Take out 5.0 kg of ballast or fuel for 1300.0 kg.',
    ],
  ])('%s', (_, seen, text) => {
    expect(said(seen)).toBe(text);
  });
  test('in pounds', () => {
    const seen = planned(choice({}), [
      { kind: 'total', now: 1305, target: 1310, mass: 5, moment: null },
    ]);
    expect(said(seen, 'lb')).toContain('stays 2877.0 lb');
    expect(said(seen, 'lb')).toContain('Put in 11.0 lb');
  });
});

describe('a call', () => {
  const progress = (change: Partial<CallProgress>): CallProgress => ({
    ok: true,
    verdict: 'under way',
    turns: 0.5,
    u: 0.05,
    share: 0.5,
    remaining: 0.5,
    resolves: true,
    alike: [
      { corner: 'RF', way: 'up' },
      { corner: 'LF', way: 'down' },
      { corner: 'LR', way: 'up' },
      { corner: 'RR', way: 'down' },
    ],
    hand: null,
    ...change,
  });
  const turning = (of: CallProgress | null | Parameters<typeof refusalOf>[0]): AdjustSeen => ({
    at: 'turning',
    call: { corner: 'RF', steps: 4, turns: 1 },
    adjuster: ADJUSTERS.RF,
    progress: of && 'code' in of ? refusalOf(of) : of,
  });
  const refusalOf = (of: { readonly code: 'pad lost'; readonly why: string }) =>
    ({ ok: false, ...of }) as const;

  test.each<[string, AdjustSeen, string]>([
    ['called', turning(null), 'calm: Right front up 1 turn.'],
    [
      'not begun',
      turning(progress({ verdict: 'not begun', turns: 0, remaining: 1 })),
      'calm: Right front up 1 turn.',
    ],
    ['under way', turning(progress({})), 'wait: Right front up 1 turn: ½ turn to go.'],
    [
      'nearly there',
      turning(progress({ remaining: 0.1 })),
      'wait: Right front up 1 turn: nearly there.',
    ],
    [
      'under way, not resolved',
      turning(progress({ resolves: false })),
      'wait: Right front up 1 turn: ½ turn to go. The loads cannot tell a step yet: count the thread.',
    ],
    [
      'reached',
      turning(progress({ verdict: 'reached', remaining: 0 })),
      'calm: Reached. Stop: right front up 1 turn.',
    ],
    [
      'about reached',
      turning(progress({ verdict: 'reached', remaining: 0, resolves: false })),
      'calm: About reached: right front up 1 turn. The loads cannot tell a step yet: count the thread.',
    ],
    [
      'over',
      turning(progress({ verdict: 'over', remaining: -0.5 })),
      'alarm: Too far: back ½ turn at the right front.',
    ],
    [
      'wrong sense',
      turning(
        progress({
          verdict: 'wrong sense',
          alike: [
            { corner: 'RF', way: 'down' },
            { corner: 'LF', way: 'up' },
            { corner: 'LR', way: 'down' },
            { corner: 'RR', way: 'up' },
          ],
        }),
      ),
      'alarm: Wrong sense. Either the right front goes down instead of up, or it is another corner: left front up or left rear down or right rear up. Stop and look.',
    ],
    [
      'pad lost',
      turning({ code: 'pad lost', why: 'The pad at the left rear is not live.' }),
      'alarm: The pad at the left rear is not live.',
    ],
  ])('%s', (_, seen, text) => {
    expect(said(seen)).toBe(text);
  });
  test('the text may change while what it is about stays', () => {
    const about = (remaining: number): string =>
      adjustAnswer(turning(progress({ remaining })), 'kg').about;
    expect(about(0.75)).toBe(about(0.5));
  });
});

describe('the crew', () => {
  test.each([
    [
      'raise',
      'wait: Raise the car when all are clear: the right front and left rear cannot be turned under load.',
    ],
    ['lower', 'wait: Lower the car when all are clear.'],
    ['settle', 'wait: Let it settle: push and lift it, each stroke weaker, then hands off.'],
    ['judge', 'wait: Read the pads and judge: hands off the car.'],
  ] as const)('%s', (step, text) => {
    expect(said({ at: 'crew', step, corners: ['RF', 'LR'] })).toBe(text);
  });
});

describe('which corner', () => {
  const told = (change: Partial<CornerTold>): AdjustSeen => ({
    at: 'which corner',
    called: 'RF',
    told: {
      chances: null,
      turns: { LF: -1, RF: 1, LR: 1, RR: -1 },
      stake: 3,
      measure: 1,
      ...change,
    },
    points: POINTS,
  });
  test.each<[string, AdjustSeen, string]>([
    [
      'unknown and it matters',
      told({}),
      'wait: The loads went the right way but cannot name the corner. Measure the ride height at the right front, or count the thread at the right front.',
    ],
    [
      'unknown and it does not matter',
      told({ stake: 0.5 }),
      'calm: The loads went the right way. Which corner it was makes no difference to the ride heights wanted.',
    ],
    [
      'as called',
      told({ chances: { LF: 0, RF: 0.97, LR: 0.03, RR: 0 } }),
      'calm: It was the right front, as called.',
    ],
    [
      'another',
      told({ chances: { LF: 0, RF: 0.02, LR: 0.98, RR: 0 } }),
      'alarm: The ride height says the left rear was turned, not the right front. Look at both threads; the next plan starts from what the pads say.',
    ],
    [
      'still unclear',
      told({ chances: { LF: 0, RF: 0.6, LR: 0.4, RR: 0 } }),
      'wait: The ride height does not settle which corner was turned. Count the thread at the right front.',
    ],
  ])('%s', (_, seen, text) => {
    expect(said(seen)).toBe(text);
  });
});

describe('what stands in the way', () => {
  const disagreement = (change: Partial<Disagreement> = {}): AdjustSeen => ({
    at: 'disagrees',
    disagreement: {
      chance: 1e-4,
      load: { expected: measured(-6.8, 0.1, 50), seen: measured(-5, 0.1, 50) },
      rise: null,
      reasons: [
        { kind: 'bar connected', corner: null, weight: 0.8 },
        { kind: 'coil-bound', corner: 'RF', weight: 0.15 },
      ],
      ...change,
    },
  });
  test.each<[string, AdjustSeen, string]>([
    [
      'no reading',
      { at: 'unread' },
      'wait: No settled reading yet. Lower the car and let it settle.',
    ],
    [
      'a refusal',
      { at: 'refused', refusal: { ok: false, code: 'no pitch', why: 'The pitch is missing.' } },
      'wait: The pitch is missing.',
    ],
    [
      'a response that disagrees',
      disagreement(),
      'alarm: The car answers otherwise than known: −5.0 kg at the left front where −6.8 kg was expected. Likely: an anti-roll bar is still connected (take a drop link off and look again); or the right front spring is coil-bound or on its packer (look for daylight between coils).',
    ],
    [
      'with a height, and no reason',
      disagreement({
        reasons: [],
        rise: { corner: 'RF', expected: measured(1.2e-3, 1e-4, 9), seen: measured(1e-4, 1e-4, 9) },
      }),
      'alarm: The car answers otherwise than known: −5.0 kg at the left front where −6.8 kg was expected, the right front rose by 0.1 mm where 1.2 mm was expected. None of the known reasons explains it. Settle and read again.',
    ],
  ])('%s', (_, seen, text) => {
    expect(said(seen)).toBe(text);
  });
  test('every reason has words of its own', () => {
    const kinds = ['thread pitch', 'loose', 'stuck damper', 'other turns', 'hand or mass'] as const;
    const texts = kinds.map((kind) =>
      said(disagreement({ reasons: [{ kind, corner: 'LR', weight: 1 }] })),
    );
    expect(new Set(texts).size).toBe(kinds.length);
    for (const text of texts) expect(text).toMatch(/Likely: .+ \(.+\)\.$/u);
  });
});
