import { describe, expect, test } from 'vitest';
import type { KeptOf } from '../../../core/contract/kept.ts';
import type { Capture } from '../../../core/contract/records.ts';
import { perCorner } from '../../../core/corners.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { ruledOut, type ChecksKept } from '../../../core/sheet/ruledOut.ts';
import { LEVEL_PADS, padPoints, readSurvey } from '../flatPatch/simulatedPatch.ts';
import { createNoise } from '../signal/noise.ts';
import { captureOf, freshRecord, LEVEL_WEIGHTS, sourcesOf, weighed } from './sampleRecord.ts';

/** Pads and patch looked at after two captures; the surveys are read of a simulated patch. */

const FIRST = 10_000;
const SECOND = 20_000;
const zeros = (shift: number | null): Capture['zeroShift'] => perCorner(() => shift);

const side = (id: string, takenAt: number, change: Partial<Capture> = {}) => {
  const made = captureOf(id, LEVEL_WEIGHTS);
  const corners = perCorner((corner) => ({
    ...made.corners[corner],
    calibrationId: 'calibration',
  }));
  const capture = { ...made, corners, takenAt, ...change };
  return sourcesOf(weighed(freshRecord({ id: `record ${id}` }), id), [capture]);
};

/** 0.05 mm a sight, three of each, so that 0.2 mm of twist can be told. */
const survey = (
  at: number,
  rise: number,
  more: Partial<KeptOf<'patch survey'>['survey']> = {},
): KeptOf<'patch survey'> => ({
  kind: 'patch survey',
  id: `survey ${at}`,
  subject: `survey ${at}`,
  at,
  practice: false,
  survey: {
    survey: readSurvey(
      perCorner((corner) => ({ ...LEVEL_PADS[corner], height: corner === 'RF' ? rise : 0 })),
      { points: padPoints(5), repeats: 3, noise: createNoise(at), sd: 5e-5, marks: {} },
    ) as KeptOf<'patch survey'>['survey']['survey'],
    feet: [],
    packers: [],
    step: 0.25,
    onlyUpward: false,
    done: [],
    venueId: 'venue-1',
    carId: EXAMPLE_CAR.id,
    isWithCar: false,
    note: '',
    ...more,
  },
});
const massCheck = (
  corner: string,
  at: number,
  state: 'same' | 'moved' | 'cannot tell' = 'same',
): KeptOf<'mass check'> =>
  ({
    kind: 'mass check',
    id: `check ${corner} ${at}`,
    subject: `pad-${corner}`,
    at,
    practice: false,
    calibrationId: 'calibration',
    state,
  }) as unknown as KeptOf<'mass check'>;

const look = (
  checks: Partial<ChecksKept>,
  { before = side('a', FIRST), after = side('b', SECOND), isRelaid = false } = {},
) =>
  ruledOut({
    car: EXAMPLE_CAR,
    before,
    after,
    isRelaid,
    checks: { surveys: [], massChecks: [], zeroShiftLimit: 0.2, ...checks },
    labels: 'LF RF LR RR',
  });
const HEIGHTS = ['LF', 'RF', 'LR', 'RR'].map((corner) => `pad height ${corner}`);

describe('a pad’s height', () => {
  test('is ruled out by a survey that shows the patch where it was', () => {
    const found = look({ surveys: [survey(FIRST - 1, 0), survey(SECOND + 1, 0)] });
    expect(found.causes).toEqual(HEIGHTS);
    expect(found.words).toEqual([
      'The patch was surveyed again and is where it was: no pad’s height.',
    ]);
  });

  test('is not, where a pad rose, or the surveys do not tell of these captures', () => {
    const causes = (...of: Parameters<typeof look>) => look(...of).causes;
    const [earlier, later] = [survey(FIRST - 1, 0), survey(SECOND + 1, 0)];
    expect(causes({ surveys: [earlier, survey(SECOND + 1, 5e-4)] })).toEqual([]);
    expect(causes({ surveys: [earlier] })).toEqual([]);
    expect(causes({ surveys: [survey(FIRST + 1, 0), later] })).toEqual([]);
    expect(causes({ surveys: [earlier, later] }, { isRelaid: true })).toEqual([]);
    const turned = survey(FIRST - 1, 0, { done: [{ pad: 'LF', foot: 'a' }] });
    expect(causes({ surveys: [turned, later] })).toEqual([]);
    const elsewhere = survey(SECOND + 1, 0, { venueId: 'another' });
    expect(causes({ surveys: [earlier, elsewhere] })).toEqual([]);
  });
});

describe('a pad’s reading', () => {
  const checked = {
    before: side('a', FIRST, { zeroShift: zeros(0.05) }),
    after: side('b', SECOND, { zeroShift: zeros(-0.1) }),
  };

  test('is ruled out where its zero was read after both and a mass checked since', () => {
    const found = look({ massChecks: [massCheck('RF', SECOND + 1)] }, checked);
    expect(found.causes).toEqual(['pad RF']);
    expect(found.words).toEqual([
      expect.stringMatching(/not the pads RF\.$/),
      expect.stringMatching(/^Zeros as before on the pads LF, LR, RR: put a known mass/),
    ]);
  });

  test('is not by a check from before, one that was not the same, or a zero that shifted', () => {
    const causes = (...of: Parameters<typeof look>) => look(...of).causes;
    expect(causes({ massChecks: [massCheck('RF', SECOND - 1)] }, checked)).toEqual([]);
    const undone = [massCheck('RF', SECOND + 1), massCheck('RF', SECOND + 2, 'moved')];
    expect(causes({ massChecks: undone }, checked)).toEqual([]);
    const shifted = { ...checked, after: side('b', SECOND, { zeroShift: zeros(0.3) }) };
    const since = { massChecks: [massCheck('RF', SECOND + 1)] };
    expect(causes(since, shifted)).toEqual([]);
    expect(look(since).words).toEqual([
      expect.stringMatching(/^A mass since finds the pads RF the same: check the zeros/),
    ]);
  });
});
