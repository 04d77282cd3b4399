import { expect, test } from 'vitest';
import { boundsToOpen, readWindowState } from '../../electron/windowState.ts';

const state = { x: 100, y: 50, width: 1200, height: 760, maximized: true };
const screen = { x: 0, y: 0, width: 1920, height: 1080 };

test('what was kept is read; anything else is nothing', () => {
  expect(readWindowState(JSON.stringify(state))).toEqual(state);
  for (const text of [
    '',
    'null',
    '[]',
    '{}',
    '{"x":1',
    JSON.stringify({ ...state, x: '100' }),
    JSON.stringify({ ...state, y: 1.5 }),
    JSON.stringify({ ...state, width: 0 }),
    JSON.stringify({ ...state, height: -1 }),
    JSON.stringify({ ...state, maximized: 1 }),
  ])
    expect(readWindowState(text), text).toBeNull();
});

test('it opens where it was as long as its title bar can be taken hold of', () => {
  const { maximized: _, ...bounds } = state;
  expect(boundsToOpen(state, [screen])).toEqual(bounds);
  expect(boundsToOpen(null, [screen])).toBeNull();
  expect(boundsToOpen(state, [])).toBeNull();
  // 120 pixels of its width are left on the screen, then 119.
  expect(boundsToOpen({ ...state, x: 1800 }, [screen])).toEqual({ ...bounds, x: 1800 });
  expect(boundsToOpen({ ...state, x: 1801 }, [screen])).toBeNull();
  expect(boundsToOpen({ ...state, x: -1080 }, [screen])).toEqual({ ...bounds, x: -1080 });
  expect(boundsToOpen({ ...state, x: -1081 }, [screen])).toBeNull();
  // A title bar above the screen or below it is out of reach, whatever else is visible.
  expect(boundsToOpen({ ...state, y: -1 }, [screen])).toBeNull();
  expect(boundsToOpen({ ...state, y: 1057 }, [screen])).toBeNull();
  // The second screen was unplugged; the first is smaller than the window was.
  expect(boundsToOpen({ ...state, x: 2000 }, [screen, { ...screen, x: 1920 }])).not.toBeNull();
  expect(boundsToOpen({ ...state, x: 2000 }, [screen])).toBeNull();
  expect(boundsToOpen(state, [{ ...screen, width: 1024, height: 768 }])).toBeNull();
});
