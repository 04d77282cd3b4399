import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { second } from '../../core/units.ts';
import { createRealScheduler, newId, wallClock } from '../../electron/clock.ts';

/** Timers and both clocks are vitest's, so nothing waits. */
beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance', 'Date'] });
});
afterEach(() => {
  vi.useRealTimers();
});

describe('createRealScheduler', () => {
  test('names what waits, and nothing is left after cancelling or running', () => {
    const scheduler = createRealScheduler();
    const ran: string[] = [];
    const cancelA = scheduler.after('a', second(1), () => ran.push('a'));
    scheduler.after('b', second(2), () => ran.push('b'));
    const cancelC = scheduler.every('c', second(0.8), () => ran.push('c'));
    expect(scheduler.waiting()).toEqual(['a', 'b', 'c']);
    cancelA();
    cancelA();
    vi.advanceTimersByTime(2000);
    expect(ran).toEqual(['c', 'c', 'b']);
    cancelC();
    expect(scheduler.waiting()).toEqual([]);
    expect(vi.getTimerCount()).toBe(0);
  });

  test('never runs before it is due, though setTimeout counts whole milliseconds', () => {
    const scheduler = createRealScheduler();
    const asked = scheduler.now();
    const late: number[] = [];
    for (const delay of [0.0004, 0.0161, 0.0166667])
      scheduler.after('x', second(delay), () => late.push(scheduler.now() - asked - delay));
    vi.advanceTimersByTime(50);
    expect(late).toHaveLength(3);
    for (const each of late) {
      expect(each).toBeGreaterThanOrEqual(0);
      expect(each).toBeLessThan(0.001);
    }
  });

  test('keeps sixty a second over a minute, without drift', () => {
    const scheduler = createRealScheduler();
    let runs = 0;
    const cancel = scheduler.every('frame', second(1 / 60), () => (runs += 1));
    vi.advanceTimersByTime(60_001);
    cancel();
    expect(runs).toBe(3600);
  });

  test('skips what a sleeping computer missed, and keeps its phase', () => {
    const scheduler = createRealScheduler();
    const running = performance.now.bind(performance);
    const start = running();
    // Time passed asleep: the clock counts it, the timers do not.
    let asleepMs = 0;
    const clock = vi.spyOn(performance, 'now').mockImplementation(() => running() + asleepMs);
    const at: number[] = [];
    const cancel = scheduler.every('tick', second(1), () => at.push(performance.now() - start));
    vi.advanceTimersByTime(1000);
    asleepMs = 8400;
    vi.advanceTimersByTime(2000);
    clock.mockRestore();
    expect(at).toEqual([1000, 10_400, 11_000]);
    expect(scheduler.waiting()).toEqual(['tick']);
    cancel();
  });

  test('waits longer than setTimeout can', () => {
    const scheduler = createRealScheduler();
    const run = vi.fn<() => void>();
    const thirtyDays = 30 * 86_400;
    scheduler.after('month', second(thirtyDays), run);
    vi.advanceTimersByTime(thirtyDays * 1000 - 1);
    expect(run).not.toHaveBeenCalled();
    vi.advanceTimersByTime(1);
    expect(run).toHaveBeenCalledOnce();
  });

  test('a timer may be cancelled from within itself', () => {
    const scheduler = createRealScheduler();
    let runs = 0;
    const cancel = scheduler.every('once', second(1), () => {
      runs += 1;
      cancel();
    });
    vi.advanceTimersByTime(5000);
    expect([runs, scheduler.waiting()]).toEqual([1, []]);
  });

  test('refuses a period of nothing', () => {
    expect(() => createRealScheduler().every('none', second(0), () => undefined)).toThrow(
      RangeError,
    );
  });
});

test('the wall clock is the computer’s, in whole milliseconds, and ids carry it', () => {
  vi.setSystemTime(1_700_000_000_000);
  expect(wallClock()).toBe(1_700_000_000_000);
  const id = newId();
  expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  expect(parseInt(id.slice(0, 13).replace('-', ''), 16)).toBe(1_700_000_000_000);
});
