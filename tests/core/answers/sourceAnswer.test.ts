import { expect, test } from 'vitest';
import { sourceAnswer } from '../../../core/answers/sourceAnswer.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { FAULTS } from '../../../core/faults.ts';
import { exampleFrame, exampleState } from '../../renderer/harness/scenes.ts';

const said = (state: Partial<BenchState> | null, joined = true): readonly string[] | null => {
  const answer = sourceAnswer({
    joined,
    state: state && exampleState({ source: 'bluetooth', radio: 'on', radioFault: null, ...state }),
    frame: exampleFrame(),
  });
  return answer && [answer.tone, answer.text];
};

test.each<[string, Partial<BenchState> | null, boolean, RegExp]>([
  ['the bench has not spoken yet', null, true, /^wait: Waiting for the bench/u],
  ['no bench at all', null, false, /^alarm: The bench does not answer\. Trying again/u],
  ['the link broke', {}, false, /^alarm: The link to the bench is broken\. What is shown is old/u],
  ['nothing chosen', { source: null }, true, /^wait: No pads yet\. Practise on the rig/u],
  ['the radio starts', { radio: 'starting' }, true, /^wait: Waiting for the radio to start/u],
  ['the radio is off', { radio: 'off' }, true, /^alarm: The radio is off/u],
])('%s', (_, state, joined, words) => {
  expect(said(state, joined)?.join(': ')).toMatch(words);
});

test('a fault of the radio says its cause and its remedy, and goes before the state of the radio', () => {
  const radioFault = { code: 'radio-off', subject: 'radio', at: 1, detail: null } as const;
  const { cause, remedy } = FAULTS['radio-off'];
  expect(said({ radio: 'off', radioFault })).toEqual(['alarm', `${cause} ${remedy}`]);
});

test('nothing in the way: no answer, the screen has its own', () => {
  expect(said({})).toBeNull();
});
