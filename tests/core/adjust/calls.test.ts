import { describe, expect, test } from 'vitest';
import { crewSteps } from '../../../core/adjust/call.ts';
import { callInWords } from '../../../core/adjust/callInWords.ts';
import { callPitch, TARGET_PITCH } from '../../../core/adjust/callPitch.ts';
import { turnsInWords } from '../../../core/adjust/turnsInWords.ts';
import type { Adjuster } from '../../../core/adjust/adjuster.ts';
import { perCorner } from '../../../core/corners.ts';
import { NONE, sixths } from './exampleAdjust.ts';

const steps = { LF: 0, RF: 9, LR: 3, RR: -6 };

describe('the crew’s steps', () => {
  test('under load: call by call, the longest first, each settled and judged', () => {
    expect(crewSteps(steps, sixths())).toEqual([
      { do: 'turn', call: { corner: 'RF', steps: 9, turns: 1.5 } },
      { do: 'settle' },
      { do: 'judge' },
      { do: 'turn', call: { corner: 'RR', steps: -6, turns: -1 } },
      { do: 'settle' },
      { do: 'judge' },
      { do: 'turn', call: { corner: 'LR', steps: 3, turns: 0.5 } },
      { do: 'settle' },
      { do: 'judge' },
    ]);
  });
  test('not under load: raised once, all turned, lowered, settled, judged', () => {
    const raised = perCorner((corner) => {
      const adjuster = sixths()[corner];
      return adjuster && { ...adjuster, underLoad: false };
    });
    expect(crewSteps(steps, raised).map((step) => step.do)).toEqual([
      'raise',
      'turn',
      'turn',
      'turn',
      'lower',
      'settle',
      'judge',
    ]);
  });
  test('mixed: what can be turned on the pads first', () => {
    const mixed = { ...sixths(), RF: { ...(sixths().RF as Adjuster), underLoad: false } };
    expect(
      crewSteps(steps, mixed).map((step) => (step.do === 'turn' ? step.call.corner : step.do)),
    ).toEqual('RR settle judge LR settle judge raise RF lower settle judge'.split(' '));
  });
  test('nothing to turn, nothing to do', () => {
    expect(crewSteps(NONE, sixths())).toEqual([]);
  });
});

describe('turns as people say them', () => {
  test.each([
    [3, 4, '¾ turn'],
    [-2, 4, '½ turn'],
    [1, 6, '⅙ turn'],
    [2, 6, '⅓ turn'],
    [5, 6, '⅚ turn'],
    [1, 8, '⅛ turn'],
    [6, 4, '1½ turns'],
    [9, 4, '2¼ turns'],
    [11, 6, '1⅚ turns'],
    [6, 6, '1 turn'],
    [-12, 6, '2 turns'],
    [0, 6, '0 turns'],
    [5, 12, '5 steps'],
    [13, 1, '13 turns'],
  ] as const)('%i steps of 1/%i: %s', (count, stepsPerTurn, words) => {
    expect(turnsInWords(count, { stepsPerTurn, countedIn: 'turns' })).toBe(words);
  });
  test.each([
    ['flats', 4, '4 flats'],
    ['clicks', -1, '1 click'],
    ['shims', 2, '2 shims'],
  ] as const)('%s are counted', (countedIn, count, words) => {
    expect(turnsInWords(count, { stepsPerTurn: 6, countedIn })).toBe(words);
  });
  test('half a step is nobody’s', () => {
    expect(() => turnsInWords(0.5, { stepsPerTurn: 4, countedIn: 'turns' })).toThrow(RangeError);
  });
  test('a call', () => {
    const adjuster = { ...(sixths().RF as Adjuster), stepsPerTurn: 4 };
    expect(callInWords({ corner: 'RF', steps: 3 }, adjuster)).toBe('right front up ¾ turn');
    expect(callInWords({ corner: 'LR', steps: -2 }, adjuster)).toBe('left rear down ½ turn');
  });
});

describe('the pitch of the sound', () => {
  test('nears the target’s as the target nears, from below, and goes beyond it', () => {
    const remaining = [5, 2, 1.5, 1, 0.5, 0.1, 0, -0.1, -1, -2, -9];
    const pitches = remaining.map(callPitch);
    expect(pitches[6]).toBe(TARGET_PITCH);
    expect(pitches[3]).toBeCloseTo(TARGET_PITCH / 2, 9);
    expect(pitches).toEqual(pitches.toSorted((a, b) => a - b));
    expect(new Set(pitches).size).toBe(9);
    expect([pitches[0], pitches.at(-1)]).toEqual([220, 3520]);
  });
  test('needs a number', () => {
    expect(() => callPitch(NaN)).toThrow(RangeError);
  });
});
