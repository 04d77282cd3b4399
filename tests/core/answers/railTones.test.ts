import { expect, test } from 'vitest';
import { railTones, TONE_WORDS } from '../../../core/answers/railTones.ts';
import { exampleCorner, exampleFrame, exampleState } from '../../renderer/harness/scenes.ts';

test('the rail has the tones of the answers themselves', () => {
  const state = exampleState();
  expect(railTones({ joined: true, state, frame: exampleFrame() })).toEqual({
    pads: 'calm',
    balance: 'calm',
  });
  expect(railTones({ joined: true, state: exampleState({ source: null }), frame: null })).toEqual({
    pads: 'wait',
    balance: 'wait',
  });
  const frame = exampleFrame({ stillness: null, balance: null }, (corner) =>
    exampleCorner(corner, corner === 'RF' ? { status: 'stale', stillness: null } : {}),
  );
  expect(railTones({ joined: true, state, frame })).toEqual({ pads: 'alarm', balance: 'alarm' });
  expect(railTones({ joined: false, state: null, frame: null })).toEqual({
    pads: 'alarm',
    balance: 'alarm',
  });
});

test('each tone has a word of its own', () => {
  expect(new Set(Object.values(TONE_WORDS)).size).toBe(3);
});
