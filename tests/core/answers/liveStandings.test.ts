import { expect, test } from 'vitest';
import { TONE_WORDS } from '../../../core/answers/answer.ts';
import { liveStandings } from '../../../core/answers/liveStandings.ts';
import { exampleCorner, exampleFrame, exampleState } from '../../renderer/harness/scenes.ts';

const tones = (seen: Parameters<typeof liveStandings>[0]): readonly string[] => {
  const { pads, balance } = liveStandings(seen);
  return [pads.tone, balance.tone];
};

test('pads and balance stand as the answers themselves', () => {
  const state = exampleState();
  expect(tones({ joined: true, state, frame: exampleFrame() })).toEqual(['calm', 'calm']);
  expect(tones({ joined: true, state: exampleState({ source: null }), frame: null })).toEqual([
    'wait',
    'wait',
  ]);
  const frame = exampleFrame({ stillness: null, balance: null }, (corner) =>
    exampleCorner(corner, corner === 'RF' ? { status: 'stale', stillness: null } : {}),
  );
  expect(tones({ joined: true, state, frame })).toEqual(['alarm', 'alarm']);
  expect(tones({ joined: false, state: null, frame: null })).toEqual(['alarm', 'alarm']);
});

test('each tone has a word of its own', () => {
  expect(new Set(Object.values(TONE_WORDS)).size).toBe(3);
});
