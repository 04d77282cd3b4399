import { describe, expect, test } from 'vitest';
import type { Seen } from '../../../core/answers/cornerCheck.ts';
import { padsAnswer } from '../../../core/answers/padsAnswer.ts';
import { perCorner, type Corner } from '../../../core/corners.ts';
import type { BenchState, PadShown } from '../../../core/contract/events.ts';
import { FAULTS, type FaultCode } from '../../../core/faults.ts';
import { exampleFrame, examplePad, exampleState, SERIALS } from '../../renderer/harness/scenes.ts';

const pads = (change: (corner: Corner) => Partial<PadShown>): PadShown[] =>
  (['LF', 'RF', 'LR', 'RR'] as const).map((corner) => ({
    ...examplePad(corner, SERIALS[corner]),
    ...change(corner),
  }));
const said = (state: Partial<BenchState>, change: Partial<Seen> = {}): string => {
  const { text, tone } = padsAnswer({
    joined: true,
    state: exampleState({ practice: null, source: 'bluetooth', ...state }),
    frame: exampleFrame(),
    ...change,
  });
  return `${tone}: ${text}`;
};
const withFault = (code: FaultCode) => (corner: Corner) =>
  corner === 'LR' ? { faults: [{ code, subject: SERIALS.LR, at: 1, detail: null }] } : {};

describe('can the pads be trusted?', () => {
  test.each<[string, Partial<BenchState>, string]>([
    ['first start', { source: null }, 'wait: No pads yet. Practise on the rig, or look for pads.'],
    [
      'none heard',
      { pads: [], assigned: perCorner(() => null) },
      'wait: No pad heard yet. Switch the pads on and bring them near; looking goes on.',
    ],
    [
      'heard, none assigned',
      { pads: pads(() => ({ corner: null })), assigned: perCorner(() => null) },
      'wait: 4 pads found. No corner has a pad yet: choose, blink or press.',
    ],
    [
      'one corner without',
      { assigned: { ...SERIALS, RF: null } },
      'wait: 4 pads found. RF has no pad yet: choose, blink or press.',
    ],
    [
      'two corners without',
      { assigned: { ...SERIALS, RF: null, LR: null } },
      'wait: 4 pads found. RF and LR have no pad yet: choose, blink or press.',
    ],
    [
      'asking for a press',
      { askingForPress: 'RR' },
      'wait: Stand on or press the pad that belongs at RR.',
    ],
    [
      'one lost',
      { pads: pads((corner) => (corner === 'RF' ? { phase: 'lost' } : {})) },
      'alarm: Not yet. Three live; RF is being looked for.',
    ],
    [
      'all lost',
      { pads: pads(() => ({ phase: 'backing off' })) },
      'wait: Not yet. None live; LF, RF, LR and RR are being looked for.',
    ],
    [
      'a spare only heard',
      { pads: [examplePad(null, 'RIG-0009')] },
      'wait: Not yet. None live; LF, RF, LR and RR are being looked for.',
    ],
    [
      'battery low',
      { pads: pads(withFault('pad-low-battery')) },
      'alarm: Four live. Battery low at LR: charge or change before the next set-down.',
    ],
    [
      'overload',
      { pads: pads(withFault('pad-overload')) },
      `alarm: LR: ${FAULTS['pad-overload'].cause} ${FAULTS['pad-overload'].remedy}`,
    ],
    [
      'stuck',
      { pads: pads(withFault('pad-stuck')) },
      `alarm: LR: ${FAULTS['pad-stuck'].cause} ${FAULTS['pad-stuck'].remedy}`,
    ],
    [
      'no zero',
      { zeros: perCorner(() => null) },
      'wait: Four live. No zero yet: with the car raised, take it under Balance.',
    ],
    [
      'not calibrated',
      {},
      'calm: Four live and zeroed. None is calibrated: the span is only the maker’s rating.',
    ],
    [
      'one not calibrated',
      { pads: pads((corner) => ({ calibrated: corner !== 'RR' })) },
      'calm: Four live and zeroed. RR not calibrated: the span is only the maker’s rating.',
    ],
    [
      'all is well',
      { pads: pads(() => ({ calibrated: true })) },
      'calm: Yes. Four live, zeroed and calibrated.',
    ],
  ])('%s', (_, state, expected) => {
    expect(said(state)).toBe(expected);
  });

  test('connected but silent is not live', () => {
    const frame = exampleFrame({}, (corner) => (corner === 'LF' ? { status: 'stale' } : {}));
    expect(said({}, { frame })).toBe('alarm: Not yet. Three live; LF is being looked for.');
  });

  test('practice is said', () => {
    const { text } = padsAnswer({ joined: true, state: exampleState(), frame: exampleFrame() });
    expect(text.endsWith('Practice.')).toBe(true);
  });
});
