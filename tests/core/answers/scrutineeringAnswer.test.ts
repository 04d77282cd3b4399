import { expect, test } from 'vitest';
import { chanceShown, scrutineeringAnswer } from '../../../core/answers/scrutineeringAnswer.ts';

test('nothing limited: says what to add', () => {
  expect(scrutineeringAnswer([])).toEqual({
    about: 'nothing limited',
    text: 'No item has a limit yet. Add what the rules limit.',
    tone: 'wait',
  });
});

test.each([
  [0.99999, 'more than 99.99 %'],
  [0.99929, '99.92 %'],
  [0.9929, '99.2 %'],
  [0.7, '70 %'],
  [0.699999, '69 %'],
  [0.0559, '5.5 %'],
  [0.0001, 'less than 0.1 %'],
])('a chance of %d is never said to be more: %s', (probability, text) => {
  expect(chanceShown(probability).replaceAll('\u00a0', ' ')).toBe(text);
});
