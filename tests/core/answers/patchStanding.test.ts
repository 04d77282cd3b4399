import { describe, expect, test } from 'vitest';
import { carOnPatch, patchStanding, surveysKept } from '../../../core/answers/patchStanding.ts';
import type { KeptOf } from '../../../core/contract/kept.ts';
import { DEFAULT_SETTINGS } from '../../../core/contract/settings.ts';
import { perCorner, type PerCorner } from '../../../core/corners.ts';
import { EXAMPLE_CAR, EXAMPLE_CAR_MASS } from '../../../core/sheet/car.ts';
import { LEVEL_PADS, padPoints, readSurvey } from '../flatPatch/simulatedPatch.ts';
import { captureOf, LEVEL_WEIGHTS } from '../sheet/sampleRecord.ts';
import { createNoise } from '../signal/noise.ts';

/** A survey of pads raised so, metre, read with a scatter of 20 µm. */
const survey = (
  subject: string,
  by: Partial<PerCorner<number>>,
  change: { readonly isWithCar?: boolean; readonly unread?: boolean } = {},
): KeptOf<'patch survey'> => {
  const read = readSurvey(
    perCorner((corner) => ({ ...LEVEL_PADS[corner], height: by[corner] ?? 0 })),
    {
      points: padPoints(5).filter(({ id }) => !id.endsWith('1')),
      repeats: 3,
      noise: createNoise(subject.length + 1),
      sd: 2e-5,
    },
  );
  const sights = read.sights.map((sight) => (change.unread ? { ...sight, reading: null } : sight));
  return {
    kind: 'patch survey',
    id: subject,
    subject,
    at: 0,
    practice: false,
    survey: {
      survey: { ...read, sights },
      done: [],
      isWithCar: change.isWithCar ?? false,
      carId: EXAMPLE_CAR.id,
    },
  } as unknown as KeptOf<'patch survey'>;
};
const on = { car: EXAMPLE_CAR, captures: [], gravity: 9.81, settings: DEFAULT_SETTINGS };
const tone = (...surveys: readonly KeptOf<'patch survey'>[]): string => {
  const answer = patchStanding({ on, surveys });
  return `${answer.tone}: ${answer.about}`;
};

describe('the patch', () => {
  test('is not known before a survey, nor before its first sight', () => {
    expect(tone()).toBe('wait: no survey');
    expect(tone(survey('a', {}, { unread: true }))).toBe('wait: no survey');
  });
  test('is judged by the survey that was begun last', () => {
    // The example car gains 0.1 % cross by a twist of a few tenths of a millimetre: 5 mm is far too much.
    expect(tone(survey('a', {}))).toBe('calm: good');
    expect(tone(survey('a', { RF: 5e-3 }))).toBe('alarm: not good');
    expect(tone(survey('a', { RF: 5e-3 }), survey('b', {}))).toBe('calm: good');
  });
  test('has moved when the survey with the car on it differs from the one before', () => {
    expect(tone(survey('a', {}), survey('b', { LR: -3e-3 }, { isWithCar: true }))).toBe(
      'alarm: moved LR',
    );
  });
  test('surveys count as told last, the one begun last first', () => {
    const again = { ...survey('a', {}), id: 'again' };
    expect(surveysKept([survey('a', {}), survey('b', {}), again]).map(({ id }) => id)).toEqual([
      'b',
      'again',
    ]);
  });
});

test('the car on it is as weighed last, not counting what was set aside or is of another car', () => {
  const capture = captureOf('c', LEVEL_WEIGHTS);
  const heavier = perCorner((corner) => LEVEL_WEIGHTS[corner] + 100);
  const total = Object.values(LEVEL_WEIGHTS).reduce((sum, weight) => sum + weight, 0);
  const captures = [
    { ...captureOf('aside', heavier), setAside: true },
    { ...captureOf('other', heavier), carId: 'other' },
    capture,
  ];
  expect(carOnPatch({ ...on, captures }).mass).toBeCloseTo(total, 6);
  expect(carOnPatch(on).mass).toBe(EXAMPLE_CAR_MASS.mass);
});
