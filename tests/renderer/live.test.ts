import { describe, expect, test, vi } from 'vitest';
import { ageFrame } from '../../renderer/live/ageFrame.ts';
import { createFrameLoop } from '../../renderer/live/frameLoop.ts';
import { createLiveFrames } from '../../renderer/live/liveFrames.ts';
import { createStore } from '../../renderer/live/store.ts';
import { createTraceRing } from '../../renderer/live/traceRing.ts';
import { readTraceAt } from '../../renderer/plot/traceHover.ts';
import { exampleFrame } from './harness/scenes.ts';

describe('a frame as it may be shown now', () => {
  test('within half a second it is live', () => {
    const aged = ageFrame(exampleFrame(), 0.4);
    expect(aged.stillness).toBe('settled');
    expect(aged.corners.LF).toMatchObject({ status: 'live', stillness: 'settled' });
    expect(aged.corners.LF.age).toBeCloseTo(0.41, 9);
  });

  test('after it nothing is live, though the numbers are kept to be shown as old', () => {
    const aged = ageFrame(exampleFrame(), 0.6);
    expect(aged).toMatchObject({
      stillness: null,
      settledFor: 0,
      notReady: 'Not all four corners are live.',
    });
    expect(aged.corners.RR).toMatchObject({ status: 'stale', stillness: null, mass: 340.336 });
  });

  test('a corner that was old already ages from there; an absent one has no age', () => {
    const frame = exampleFrame({}, (corner) =>
      corner === 'RF' ? { age: 0.45 } : corner === 'LR' ? { status: 'absent', age: null } : {},
    );
    const aged = ageFrame(frame, 0.1);
    expect(aged.corners.RF.status).toBe('stale');
    expect(aged.corners.LF.status).toBe('live');
    expect(aged.corners.LR).toMatchObject({ status: 'absent', age: null });
  });
});

describe('live readings', () => {
  const withPoints = (no: number, t: number, points: readonly number[]) =>
    exampleFrame({ no, t }, () => ({ t: [...points], kg: points.map((at) => at * 10) }));

  test('a silent host greys everything between 0.5 and 0.6 s, by the window’s clock alone', () => {
    let now = 50;
    const live = createLiveFrames(() => now);
    const changed = vi.fn<() => void>();
    live.subscribe(changed);
    live.take(exampleFrame());
    const statusAt = (after: number): string | undefined => {
      now = 50 + after;
      live.judge();
      return live.get()?.corners.LF.status;
    };
    expect([statusAt(0.1), statusAt(0.45), statusAt(0.6), statusAt(3)]).toEqual([
      'live',
      'live',
      'stale',
      'stale',
    ]);
    expect(live.get()?.corners.LF.age).toBeCloseTo(3.01, 6);
    now = 54;
    live.take(exampleFrame({ no: 2, t: 104 }));
    expect(live.get()?.corners.LF.status).toBe('live');
    expect(changed.mock.calls.length).toBeLessThanOrEqual(5);
  });

  test('a broken link greys at once', () => {
    const live = createLiveFrames(() => 50);
    live.take(exampleFrame());
    live.setJoined(false);
    expect(live.get()?.corners.LF.status).toBe('stale');
  });

  test('points go into the rings once, and what is sent again is left out', () => {
    const live = createLiveFrames(() => 0);
    live.take(withPoints(1, 100, [99.8, 99.9]));
    live.take(withPoints(2, 100.1, [99.8, 99.9, 100]));
    const ring = live.rings.LF;
    expect(ring.written()).toBe(3);
    expect([ring.timeAt(2), ring.massAt(2)]).toEqual([100, 1000]);
  });

  test('a load without a zero is a hole, not a weight', () => {
    const live = createLiveFrames(() => 0);
    live.take(exampleFrame({}, () => ({ zeroed: false, t: [1], kg: [700] })));
    expect(live.rings.LF.massAt(0)).toBeNaN();
  });

  test('another bench process begins the traces anew', () => {
    const live = createLiveFrames(() => 0);
    live.take(withPoints(1, 100, [99.9]));
    live.take(withPoints(1, 3, [2.9]));
    expect(live.rings.LF.written()).toBe(1);
    expect(live.rings.LF.timeAt(0)).toBe(2.9);
  });

  test('another pad at a corner begins its trace anew', () => {
    const live = createLiveFrames(() => 0);
    live.take(withPoints(1, 100, [99.9]));
    live.forget('LF');
    expect([live.rings.LF.written(), live.rings.RF.written()]).toEqual([0, 1]);
  });

  test('host time goes on between frames', () => {
    let now = 7;
    const live = createLiveFrames(() => now);
    expect(live.hostNow()).toBeNull();
    live.take(exampleFrame({ t: 100 }));
    now = 7.25;
    expect(live.hostNow()).toBeCloseTo(100.25, 9);
  });
});

describe('a ring of readings', () => {
  test('keeps the newest, by ever-growing positions', () => {
    const ring = createTraceRing(4);
    for (let index = 0; index < 7; index += 1) ring.append(index, index === 5 ? null : index);
    expect([ring.oldest(), ring.written(), ring.timeAt(6), ring.massAt(6)]).toEqual([3, 7, 6, 6]);
    expect(ring.massAt(5)).toBeNaN();
    ring.append(6, 99);
    expect(ring.written()).toBe(7);
    expect(() => createTraceRing(6)).toThrow(RangeError);
  });

  test('the reading under the pointer: the nearest sample, a hole, or nothing', () => {
    const ring = createTraceRing(64);
    ring.append(90, 1);
    ring.append(95, 2);
    ring.append(95.1, null);
    // 242 px wide: 40 for the axis, 2 of air, 200 for 20 s.
    expect(readTraceAt(ring, 100, 40 + 151, 242)).toMatchObject({ mass: null });
    expect(readTraceAt(ring, 100, 40 + 100, 242)).toMatchObject({ mass: 1, ago: 10 });
    expect(readTraceAt(ring, 100, 40 + 120, 242)).toMatchObject({ mass: null });
    expect(readTraceAt(ring, 100, 20, 242)).toBeNull();
    expect(readTraceAt(createTraceRing(4), 100, 100, 242)).toBeNull();
  });
});

describe('store and loop', () => {
  test('the same value tells nobody; who has left is not told', () => {
    const store = createStore(1);
    const told = vi.fn<() => void>();
    const leave = store.subscribe(told);
    store.set(1);
    store.set(2);
    leave();
    store.set(3);
    expect(told).toHaveBeenCalledTimes(1);
  });

  test('one loop for all, running only while something draws', () => {
    const waiting = new Map<number, () => void>();
    let handle = 0;
    const loop = createFrameLoop({
      request: (run) => {
        handle += 1;
        waiting.set(handle, run);
        return handle;
      },
      cancel: (old) => void waiting.delete(old),
      now: () => 1,
    });
    const step = (): void => {
      const [first] = waiting;
      if (!first) return;
      waiting.delete(first[0]);
      first[1]();
    };
    const drawn: string[] = [];
    const one = loop.add(() => drawn.push('one'));
    const other = loop.add(() => drawn.push('other'));
    expect(waiting.size).toBe(1);
    step();
    one();
    step();
    other();
    expect(waiting.size).toBe(0);
    expect(drawn).toEqual(['one', 'other', 'other']);
  });
});
