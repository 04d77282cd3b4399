import { expect, test } from 'vitest';
import { causeCautions } from '../../../core/answers/causeCautions.ts';
import { CAUTION_STEPS, CAUTIONS } from '../../../core/answers/caution.ts';

test('each caution has its step, a title of its own and sentences', () => {
  expect(Object.keys(CAUTIONS)).toEqual([...CAUTION_STEPS]);
  expect(new Set(CAUTION_STEPS.map((step) => CAUTIONS[step].title)).size).toBe(
    CAUTION_STEPS.length,
  );
  for (const step of CAUTION_STEPS) {
    expect(CAUTIONS[step].step).toBe(step);
    expect(CAUTIONS[step].text).toMatch(/^[A-Z].*\.$/u);
  }
});

// What has to be said at which step: the list of cautions the design of the job asks for.
test.each([
  ['before raising', /One person commands/u],
  ['before raising', /hybrid car is made safe by trained people/u],
  ['before raising', /collars/u],
  ['before raising', /[Ss]tands on firm ground/u],
  ['before lowering', /All clear called/u],
  ['before lowering', /Chocks or end stops on every pad, one person at the brake/u],
  ['before lowering', /Never roll the car on set-up wheels or slip plates/u],
  ['before reaching in', /called clear/u],
  ['before reaching in', /Never under the floor of a car on jacks alone/u],
  ['before a spring is freed', /unloaded/u],
  ['before a spring is freed', /gas damper/u],
  ['at a wheel', /Two people/u],
  ['at the fuel', /sparks/u],
  ['at the laser', /eyes/u],
  ['before an axle is lifted', /nobody before or behind it. Straps/u],
  ['at the ballast', /Fixed as the rules say/u],
] as const)('%s: %s', (step, words) => {
  expect(CAUTIONS[step].text).toMatch(words);
});

test('confirming a cause: the cautions of what it takes, each once', () => {
  expect(
    causeCautions([
      { kind: 'strut', corner: 'RF' },
      { kind: 'wheel', corner: 'RF' },
      { kind: 'strut', corner: 'LR' },
      { kind: 'height point', item: 'height.a', name: 'a' },
      { kind: 'mass', place: { kind: 'fuel', name: 'tank', x: -2, y: 0 } },
    ]),
  ).toEqual(['before a spring is freed', 'at a wheel', 'at the fuel']);
  expect(
    causeCautions([
      { kind: 'toe link', corner: 'LF' },
      { kind: 'mass', place: { kind: 'driver', name: 'driver', x: -1, y: 0 } },
    ]),
  ).toEqual([]);
});
