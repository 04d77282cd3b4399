import { expect, test } from 'vitest';
import { seasonStanding } from '../../../core/answers/seasonStanding.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import type { SeasonRecord } from '../../../core/sheet/seasonOf.ts';
import {
  captureOf,
  freshRecord,
  LEVEL_WEIGHTS,
  sourcesOf,
  weighed,
} from '../sheet/sampleRecord.ts';

const recordOf = (id: string, carId: string = EXAMPLE_CAR.id): SeasonRecord => ({
  sources: sourcesOf(weighed(freshRecord({ id, carId }), id), [captureOf(id, LEVEL_WEIGHTS)]),
  sheet: null,
  venueName: '',
});
const stands = (...records: readonly SeasonRecord[]) =>
  seasonStanding({ car: EXAMPLE_CAR, records, massUnit: 'kg' });

test('the season is that of the cross weight of the car in hand', () => {
  expect(stands()).toMatchObject({ about: 'none', tone: 'wait' });
  expect(stands(recordOf('a', 'other'))).toMatchObject({ about: 'none' });
  // RF + LR of the total, by hand: (307.464 + 344.789) / 1305.000 = 49.98 %.
  expect(stands(recordOf('a')).text.replaceAll('\u00A0', ' ')).toMatch(/^Cross .*49\.98\d* %/u);
});
