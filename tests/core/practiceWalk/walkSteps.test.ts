import { describe, expect, test } from 'vitest';
import type { KeptOf } from '../../../core/contract/kept.ts';
import { perCorner } from '../../../core/corners.ts';
import type { WalkFacts } from '../../../core/practiceWalk/walkFacts.ts';
import {
  newestWalk,
  stepAtHand,
  walkInWords,
  withStep,
} from '../../../core/practiceWalk/walkStanding.ts';
import { isDone, WALK_STEPS } from '../../../core/practiceWalk/walkSteps.ts';
import { beginRecord, type CarRecord, type Entry } from '../../../core/sheet/carRecord.ts';
import { EXAMPLE_SHEET } from '../../../core/sheet/exampleSheet.ts';
import { newAuthority } from '../../../core/scrutineering/keptScrutineering.ts';
import { exampleCapture, exampleState } from '../../renderer/harness/scenes.ts';

const BEGUN = 1_764_100_000_000;
const LATER = BEGUN + 60_000;
const BEFORE = BEGUN - 60_000;

const practice = (car: 'raised' | 'lowering' | 'on the pads') => ({
  car,
  leaning: false,
  turns: perCorner(() => 0),
  masses: {},
  stack: null,
  runs: 0,
});
const zeros = (takenAt: number) =>
  perCorner(() => ({ takenAt, counts: 8_401, u: 0.4, temperature: 21 }));
const nothing: WalkFacts = {
  state: exampleState({ practice: practice('raised'), captures: [], zeros: zeros(BEFORE) }),
  isSettled: false,
  place: 'patch',
  begunAt: BEGUN,
  stepBegunAt: BEGUN,
  runsBefore: 0,
  surveys: [],
  adjustments: [],
  sheets: [],
  records: [],
  authorities: [],
  pairs: [],
};
const state = (change: Parameters<typeof exampleState>[0]): WalkFacts['state'] => ({
  ...nothing.state,
  ...change,
});

const reading = (item: string): Entry => ({
  is: 'reading',
  id: item,
  item,
  value: 0.01,
  typed: '1',
  gauge: 'rule',
  datum: 'pad',
  of: [],
  own: null,
  questioned: null,
  setAside: false,
  who: '',
  at: LATER,
});
const weighed: Entry = {
  is: 'capture',
  id: 'weighed',
  captureId: 'c',
  repeat: false,
  setAside: false,
  at: LATER,
};
const RIGHT_FRONT = ['height.RF', 'camber.RF', 'toe.RF'].map(reading);
const record = (
  phase: CarRecord['phase'],
  begunAt: number,
  entries: readonly Entry[],
): CarRecord => ({
  ...beginRecord({
    id: `${phase} ${begunAt}`,
    phase,
    carId: nothing.state.car.id,
    sheet: EXAMPLE_SHEET,
    outingId: null,
    venueId: null,
    surveyId: null,
    laying: null,
    begunAt,
    practice: true,
    state: nothing.state.carState,
    walk: [],
  }),
  entries: [...entries],
});
const setUp = record('set-up', LATER, [...RIGHT_FRONT, weighed]);
const setDown = record('set-down', LATER, [...RIGHT_FRONT, weighed]);
const released = (at: number) => ({
  ...EXAMPLE_SHEET,
  released: { at, who: '', recordId: 'r', asBuilt: [], backToRunning: [] },
});

const head = { id: 'k', subject: 's', practice: true } as const;
/** Only its time counts for the walk. */
const survey = (at: number) => ({ ...head, kind: 'patch survey', at }) as KeptOf<'patch survey'>;
const adjustment = (at: number, calls: readonly number[], subject = 'a') =>
  ({
    ...head,
    subject,
    kind: 'adjustment',
    at,
    adjustment: {
      carId: nothing.state.car.id,
      isOver: false,
      open: null,
      rounds: calls.map((count) => ({
        calls: Array.from({ length: count }, () => ({ corner: 'LF', steps: 1, turns: 0.125 })),
      })),
    },
  }) as unknown as KeptOf<'adjustment'>;
const authority = {
  ...head,
  kind: 'authority',
  at: BEFORE,
  authority: newAuthority('Meridian Trophy'),
  isAside: false,
} as const;
const pair = (at: number, isAside = false) =>
  ({ ...head, kind: 'pair', at, isAside }) as KeptOf<'pair'>;

describe('a step is done when the thing was done, and not before', () => {
  test.each<[string, string, Partial<WalkFacts>, boolean]>([
    ['Flat patch', 'nothing surveyed', {}, false],
    ['Flat patch', 'a survey of an earlier walk', { surveys: [survey(BEFORE)] }, false],
    ['Flat patch', 'surveyed', { surveys: [survey(LATER)] }, true],
    ['Zero', 'only the zero of before', {}, false],
    [
      'Zero',
      'the zero that the rig took of its own, before this step',
      { state: state({ zeros: zeros(LATER) }), stepBegunAt: LATER + 1 },
      false,
    ],
    ['Zero', 'taken', { state: state({ zeros: zeros(LATER) }) }, true],
    [
      'Zero',
      'taken at three corners only',
      { state: state({ zeros: { ...zeros(LATER), RR: null } }) },
      false,
    ],
    ['Lower', 'raised', {}, false],
    ['Lower', 'coming down', { state: state({ practice: practice('lowering') }) }, false],
    ['Lower', 'on the pads', { state: state({ practice: practice('on the pads') }) }, true],
    ['Settle', 'settled and not captured', { isSettled: true }, false],
    [
      'Settle',
      'an older capture',
      { state: state({ captures: [{ ...exampleCapture(1), takenAt: BEFORE }] }) },
      false,
    ],
    [
      'Settle',
      'captured',
      { state: state({ captures: [{ ...exampleCapture(1), takenAt: LATER }] }) },
      true,
    ],
    ['Set-up', 'no sheet', {}, false],
    ['Set-up', 'a sheet of another car', { sheets: [{ ...EXAMPLE_SHEET, carId: 'x' }] }, false],
    ['Set-up', 'only a released one', { sheets: [released(BEFORE)] }, false],
    ['Set-up', 'a sheet', { sheets: [EXAMPLE_SHEET] }, true],
    ['Adjust', 'one call', { adjustments: [adjustment(LATER, [1])] }, false],
    ['Adjust', 'two of an earlier walk', { adjustments: [adjustment(BEFORE, [1, 1])] }, false],
    [
      'Adjust',
      'one call told twice is one',
      { adjustments: [adjustment(LATER, [1]), adjustment(LATER, [1])] },
      false,
    ],
    ['Adjust', 'two in one round', { adjustments: [adjustment(LATER, [2])] }, true],
    [
      'Adjust',
      'one in each of two adjustments',
      { adjustments: [adjustment(LATER, [1], 'a'), adjustment(LATER, [1], 'b')] },
      true,
    ],
    ['Measure', 'a record without readings', { records: [record('set-up', LATER, [])] }, false],
    ['Measure', 'not weighed', { records: [record('set-up', LATER, RIGHT_FRONT)] }, false],
    ['Measure', 'only weighed', { records: [record('set-up', LATER, [weighed])] }, false],
    ['Measure', 'set aside', { records: [{ ...setUp, setAside: true }] }, false],
    ['Measure', 'measured', { records: [setUp] }, true],
    ['Release', 'not released', { sheets: [EXAMPLE_SHEET] }, false],
    ['Release', 'released in an earlier walk', { sheets: [released(BEFORE)] }, false],
    ['Release', 'released', { sheets: [released(LATER)] }, true],
    ['Run', 'raised', {}, false],
    [
      'Run',
      'been out and still up',
      { state: state({ practice: { ...practice('raised'), runs: 1 } }) },
      false,
    ],
    [
      'Run',
      'been out and down again',
      { state: state({ practice: { ...practice('on the pads'), runs: 1 } }) },
      true,
    ],
    [
      'Run',
      'out only before the walk',
      { runsBefore: 1, state: state({ practice: { ...practice('raised'), runs: 1 } }) },
      false,
    ],
    ['Set-down', 'car still up', { records: [setDown] }, false],
    [
      'Set-down',
      'only the set-up',
      { records: [setUp], state: state({ practice: practice('on the pads') }) },
      false,
    ],
    [
      'Set-down',
      'measured again',
      { records: [setUp, setDown], state: state({ practice: practice('on the pads') }) },
      true,
    ],
    ['Compare', 'looked at with one record', { place: 'compare', records: [setUp] }, false],
    ['Compare', 'not looked at', { place: 'measure', records: [setUp, setDown] }, false],
    ['Compare', 'looked at', { place: 'compare', records: [setUp, setDown] }, true],
    ['Scrutineering', 'nobody known', {}, false],
    ['Scrutineering', 'only the scrutineers', { authorities: [authority] }, false],
    ['Scrutineering', 'a pair of before', { pairs: [pair(BEFORE)] }, false],
    ['Scrutineering', 'a pair set aside', { pairs: [pair(LATER, true)] }, false],
    ['Scrutineering', 'a pair', { authorities: [authority], pairs: [pair(LATER)] }, true],
  ])('%s: %s', (name, _, change, done) => {
    const step = WALK_STEPS.find((each) => each.name === name);
    if (!step) throw new Error(`no step ${name}`);
    expect(isDone(step, { ...nothing, ...change })).toBe(done);
  });

  test('each step says what it awaits, in the order of the job', () => {
    expect(WALK_STEPS.map(({ place, awaits }) => `${place}: ${awaits(nothing) ?? ''}`)).toEqual([
      'patch: New survey, Read the practice staff, Store the survey.',
      'balance: Wait for four flat lines, then press Zero.',
      'balance: Press Lower on the practice car.',
      'balance: Wait for four flat lines.',
      'measure: Write a sheet first, then Take the example sheet.',
      'adjust: Read the pads and plan.',
      'measure: Under Walk begin a record for the set-up.',
      'measure: Under Release answer each line, then Release the sheet.',
      'balance: Choose what happens, then press Send it out.',
      'measure: On Balance press Lower, and let it settle.',
      'compare: A set-up and a set-down are needed: measure them, or skip this.',
      'scrutineering: Type a name for the scrutineers, for example Practice Scrutineers, then Add.',
    ]);
  });

  test('what they read is proposed near what we read, in the unit of the crew', () => {
    const capture = exampleCapture(1);
    const total = { ...capture.balance.total, value: 1305 };
    const facts: WalkFacts = {
      ...nothing,
      authorities: [authority],
      state: state({ captures: [{ ...capture, balance: { ...capture.balance, total } }] }),
    };
    const asked = (massUnit: 'kg' | 'lb'): string | undefined =>
      WALK_STEPS.at(-1)
        ?.awaits({
          ...facts,
          state: { ...facts.state, settings: { ...facts.state.settings, massUnit } },
        })
        ?.replaceAll(/[\u00A0\u202F]/gu, ' ');
    expect(asked('kg')).toContain('they read 1306.2 kg');
    // 1306.2 kg over 0.45359237 kg, the pound by definition.
    expect(asked('lb')).toContain('they read 2879.7 lb');
  });
});

describe('how far somebody has come', () => {
  const told = (at: number, subject: string, steps: ('done' | 'skipped')[], isLeft = false) =>
    ({
      ...head,
      subject,
      kind: 'practice walk',
      at,
      walk: { steps, isLeft, runsBefore: 0 },
    }) as const;

  test('the newest walk counts; it and its step began when they were first told', () => {
    expect(newestWalk([])).toBeNull();
    expect(
      newestWalk([
        told(10, 'old', ['done', 'done']),
        told(20, 'new', []),
        told(30, 'new', ['done']),
        told(40, 'new', ['done'], true),
        told(50, 'new', ['done']),
      ]),
    ).toEqual({
      id: 'new',
      begunAt: 20,
      stepBegunAt: 30,
      walk: { steps: ['done'], isLeft: false, runsBefore: 0 },
    });
  });

  test('step by step to the end, and what was done in words', () => {
    let walk = told(0, 's', []).walk as Parameters<typeof withStep>[0];
    const numbers: (number | undefined)[] = [];
    for (let i = 0; i < 13; i += 1) {
      numbers.push(stepAtHand(walk)?.no);
      if (i < 12) walk = withStep(walk, i === 0 || i === 10 || i === 11 ? 'done' : 'skipped');
    }
    expect(numbers).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, undefined]);
    expect(walkInWords(walk)).toBe(
      'You surveyed the patch, compared before and after and looked whether it passes. Skipped: zero, lower, settle, set-up, adjust, measure, release, run and set-down.',
    );
    expect(walkInWords({ ...walk, steps: [] })).toBe('You looked round.');
  });
});
