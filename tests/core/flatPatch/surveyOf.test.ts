import { expect, test } from 'vitest';
import type { KeptOf } from '../../../core/contract/kept.ts';
import { beginSurvey } from '../../../core/flatPatch/surveyPlan.ts';
import { surveyOf } from '../../../core/flatPatch/surveyOf.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import type { PatchSurvey } from '../../../core/contract/patchSurvey.ts';

const survey = (at: number, venueId: string): KeptOf<'patch survey'> => ({
  kind: 'patch survey',
  id: `survey-${at}`,
  subject: `survey-${at}`,
  at,
  practice: false,
  survey: {
    survey: structuredClone(
      beginSurvey(EXAMPLE_CAR, { points: 1, sights: 2 }),
    ) as PatchSurvey['survey'],
    feet: [],
    packers: [],
    step: 1 / 12,
    onlyUpward: false,
    done: [],
    venueId,
    carId: EXAMPLE_CAR.id,
    isWithCar: false,
    note: '',
  },
});
const SURVEYS = [survey(100, 'here'), survey(200, 'there'), survey(300, 'here')];

test.each<[string, string, number, string | null]>([
  ['before the first', 'here', 99, null],
  ['after the first', 'here', 250, 'survey-100'],
  ['after the second', 'here', 300, 'survey-300'],
  ['another venue', 'there', 400, 'survey-200'],
  ['a venue without one', 'nowhere', 400, null],
])('%s', (_, venueId, takenAt, id) => {
  expect(surveyOf({ venueId, takenAt }, SURVEYS)?.id ?? null).toBe(id);
});
