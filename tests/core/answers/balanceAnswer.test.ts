import { describe, expect, test } from 'vitest';
import { balanceAnswer, diagonalLabel } from '../../../core/answers/balanceAnswer.ts';
import { EARLY_NOTE } from '../../../core/answers/captureChange.ts';
import type { Capture } from '../../../core/contract/records.ts';
import { caution } from '../../../core/answers/caution.ts';
import type { Seen } from '../../../core/answers/cornerCheck.ts';
import { perCorner } from '../../../core/corners.ts';
import { FAULTS } from '../../../core/faults.ts';
import {
  exampleCapture,
  exampleFrame,
  exampleState,
  SERIALS,
} from '../../renderer/harness/scenes.ts';

const seen = (change: Partial<Seen> = {}): Seen => ({
  joined: true,
  state: exampleState({ practice: null, source: 'bluetooth' }),
  frame: exampleFrame(),
  ...change,
});
const real = (change: Parameters<typeof exampleState>[0]) =>
  exampleState({ practice: null, source: 'bluetooth', ...change });
const said = (change: Partial<Seen>): string => {
  const { text, tone } = balanceAnswer(seen(change));
  return `${tone}: ${text.replaceAll('\u00A0', ' ')}`;
};

describe('the total against the last capture of the same state', () => {
  // The example stands at 1305.00 kg, known to a few hundredths.
  const capture = exampleCapture(4);
  const weighing = (total: number, change: Partial<Capture> = {}): string => {
    const last = { ...capture, ...change };
    const balance = { ...last.balance, total: { ...last.balance.total, value: total } };
    return said({ state: real({ captures: [{ ...last, balance }], carState: capture.carState }) });
  };
  test.each<[string, number, Partial<Capture>, string]>([
    [
      '3 kg more',
      1302,
      {},
      '3.00 kg heavier than capture 4 in the same state: is somebody leaning on',
    ],
    [
      '3 kg less',
      1308,
      {},
      '3.00 kg lighter than capture 4 in the same state: is somebody lifting',
    ],
  ])('%s is asked about', (_, total, change, words) => {
    expect(weighing(total, change)).toContain(words);
  });
  test.each<[string, number, Partial<Capture>]>([
    ['too little to matter', 1304.7, {}],
    ['another state of the car', 1302, { carState: { ...capture.carState, fuelMass: 12 } }],
    ['a capture set aside', 1302, { setAside: true }],
    ['a provisional capture', 1302, { carStateNotes: [EARLY_NOTE] }],
  ])('%s is not', (_, total, change) => {
    expect(weighing(total, change)).not.toContain('than capture');
  });
});

describe('where is the weight?', () => {
  test.each<[string, Partial<Seen>, string]>([
    [
      'nothing said yet',
      { state: null, frame: null },
      'wait: Waiting for the bench to say how it stands.',
    ],
    [
      'no bench at all',
      { joined: false, state: null, frame: null },
      'alarm: The bench does not answer. Trying again.',
    ],
    [
      'link broken',
      { joined: false },
      'alarm: The link to the bench is broken. What is shown is old. Trying again.',
    ],
    [
      'first start',
      { state: real({ source: null }) },
      'wait: No pads yet. Practise on the rig, or look for pads.',
    ],
    [
      'radio off',
      {
        state: real({
          radio: 'off',
          radioFault: { code: 'radio-off', subject: null, at: 1, detail: null },
        }),
      },
      `alarm: ${FAULTS['radio-off'].cause} ${FAULTS['radio-off'].remedy}`,
    ],
    [
      'radio starting',
      { state: real({ radio: 'starting' }) },
      'wait: Waiting for the radio to start.',
    ],
    [
      'radio absent, no fault said',
      { state: real({ radio: 'absent' }) },
      'alarm: The radio is absent.',
    ],
    ['no frame', { frame: null }, 'wait: Waiting for the first reading.'],
    [
      'nothing assigned',
      { state: real({ assigned: perCorner(() => null) }) },
      'wait: No pad for any corner yet. Give each corner its pad under Pads.',
    ],
    [
      'two corners without a pad',
      { state: real({ assigned: { ...SERIALS, RF: null, RR: null } }) },
      'wait: No pad for RF and RR yet. Give each corner its pad under Pads.',
    ],
    [
      'one never heard',
      { frame: exampleFrame({}, (corner) => (corner === 'LR' ? { status: 'absent' } : {})) },
      'wait: The pad of LR was not heard yet.',
    ],
    [
      'one stale',
      { frame: exampleFrame({}, (corner) => (corner === 'RF' ? { status: 'stale' } : {})) },
      'alarm: RF is not live: what is shown there is old.',
    ],
    [
      'overload',
      { frame: exampleFrame({}, (corner) => (corner === 'LF' ? { overload: true } : {})) },
      'alarm: Overload on LF. Take the load off; check rating and zero before going on.',
    ],
    [
      'no zero',
      { frame: exampleFrame({}, () => ({ zeroed: false })) },
      'wait: No zero yet. With the car raised and nothing on the pads, take the zero.',
    ],
    [
      'no zero on one',
      { frame: exampleFrame({}, (corner) => ({ zeroed: corner !== 'RR' })) },
      'wait: No zero yet on RR. With the car raised and nothing on the pads, take the zero.',
    ],
    [
      'empty',
      { frame: exampleFrame({ balance: null }, () => ({ mass: 0.1 })) },
      'wait: Nowhere yet: the pads are empty. Lower the car when all are clear.',
    ],
    [
      'moving',
      { frame: exampleFrame({ stillness: 'moving', settledFor: 0 }) },
      'wait: Still moving. Cross near 50 % (RF + LR).',
    ],
    [
      'calming',
      { frame: exampleFrame({ stillness: 'calming', settledFor: 0 }) },
      'wait: Calming. Cross near 50.0 % (RF + LR).',
    ],
    [
      'no balance',
      { frame: exampleFrame({ balance: null, stillness: null }) },
      'wait: The four loads do not make a car yet.',
    ],
    [
      // Totals of design 6.1: 312.411 + 307.464 + 344.789 + 340.336 kg; (RF + LR) / total = 0.49981.
      'settled, not calibrated',
      {},
      'calm: Cross 49.98 % (RF + LR), total 1305.00 kg. Still for 4 s, ±0.02 kg a corner. Not calibrated.',
    ],
    [
      'just settled, calibrated',
      { frame: exampleFrame({ settledFor: 0.4 }, () => ({ calibrated: true })) },
      'calm: Cross 49.98 % (RF + LR), total 1305.00 kg. Just settled, ±0.02 kg a corner.',
    ],
    [
      'practice',
      { state: exampleState() },
      'calm: Cross 49.98 % (RF + LR), total 1305.00 kg. Still for 4 s, ±0.02 kg a corner. Not calibrated. Practice.',
    ],
    [
      'practice, coming down',
      {
        state: exampleState({
          practice: {
            car: 'lowering',
            leaning: false,
            turns: perCorner(() => 0),
            masses: {},
            stack: null,
            runs: 0,
          },
        }),
      },
      'wait: Not yet: the car is coming down. Practice.',
    ],
  ])('%s', (_, change, expected) => {
    expect(said(change)).toBe(expected);
  });

  test('says the labels and the unit that the crew uses', () => {
    const settings = {
      massUnit: 'lb',
      cornerLabels: 'FL FR RL RR',
      cross: 'RF+LR',
      theme: 'night',
      paper: 'letter',
      zeroShiftLimit: 0.2,
      copyFolder: null,
    } as const;
    expect(said({ state: real({ settings }) })).toBe(
      'calm: Cross 49.98 % (FR + RL), total 2877.03 lb. Still for 4 s, ±0.05 lb a corner. Not calibrated.',
    );
    expect(diagonalLabel('LF+RR', 'FL FR RL RR')).toBe('FL + RR');
  });

  test('the case stays while only digits move, so that it is read out once', () => {
    const one = balanceAnswer(seen({ frame: exampleFrame({ settledFor: 3 }) }));
    const other = balanceAnswer(seen({ frame: exampleFrame({ settledFor: 9 }) }));
    expect(one.about).toBe(other.about);
    expect(one.text).not.toBe(other.text);
  });
});

describe('the caution of the step', () => {
  const practice = (car: 'raised' | 'lowering' | 'on the pads' | 'raising') =>
    exampleState({
      practice: {
        car,
        leaning: false,
        turns: perCorner(() => 0),
        masses: {},
        stack: null,
        runs: 0,
      },
    });
  test.each([
    ['nothing chosen', exampleState({ source: null, practice: null }), exampleFrame(), undefined],
    ['no frame', exampleState(), null, undefined],
    ['raised', practice('raised'), exampleFrame({}, () => ({ mass: 0 })), 'before lowering'],
    ['empty pads', real({}), exampleFrame({}, () => ({ mass: 0 })), 'before lowering'],
    ['coming down', practice('lowering'), exampleFrame(), 'while it moves'],
    ['moving', real({}), exampleFrame({ stillness: 'moving' }), 'while it moves'],
    ['not live', real({}), exampleFrame({ stillness: null }), 'while it moves'],
    ['settled', real({}), exampleFrame(), 'before reaching in'],
  ])('%s', (_, state, frame, step) => {
    expect(caution(state, frame)?.step).toBe(step);
  });
});
