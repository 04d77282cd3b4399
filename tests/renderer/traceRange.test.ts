import { describe, expect, test } from 'vitest';
import { KILOGRAM_PER_POUND } from '../../core/units.ts';
import { createRangeKeeper, rangeAround } from '../../renderer/plot/traceRange.ts';

describe('the masses that a trace shows', () => {
  test('round numbers with air round what is there', () => {
    expect(rangeAround(0, 312, 1)).toMatchObject({ low: -50, high: 350, ticks: [-50, 350] });
  });

  test('a settled load is a flat line: never closer than two units', () => {
    const { low, high } = rangeAround(312.4, 312.42, 1);
    expect(high - low).toBeGreaterThanOrEqual(2);
    expect(high - low).toBeLessThanOrEqual(4);
  });

  test('round in the unit shown', () => {
    const { low, high } = rangeAround(0, 312 * KILOGRAM_PER_POUND, KILOGRAM_PER_POUND);
    expect([low / KILOGRAM_PER_POUND, high / KILOGRAM_PER_POUND]).toEqual([-50, 350]);
  });

  test('opens at once, closes in late, and stays the same object between', () => {
    const keeper = createRangeKeeper(1);
    const opened = keeper.judge(0, 300, 0);
    expect(opened.high).toBeGreaterThanOrEqual(300);
    expect(keeper.judge(0, 301, 0.1)).toBe(opened);
    expect(keeper.judge(299, 300, 1)).toBe(opened);
    expect(keeper.judge(299, 300, 2.9)).toBe(opened);
    const closed = keeper.judge(299, 300, 3.1);
    expect(closed.high - closed.low).toBeLessThan(5);
    expect(keeper.judge(299, 400, 3.2).high).toBeGreaterThanOrEqual(400);
  });

  test('a small trace for a moment only does not close in', () => {
    const keeper = createRangeKeeper(1);
    const opened = keeper.judge(0, 300, 0);
    keeper.judge(299, 300, 1);
    keeper.judge(0, 300, 2);
    expect(keeper.judge(299, 300, 3.5)).toBe(opened);
  });

  test('nothing drawn changes nothing', () => {
    const keeper = createRangeKeeper(1);
    const opened = keeper.judge(0, 300, 0);
    expect(keeper.judge(Number.NaN, Number.NaN, 99)).toBe(opened);
  });

  test('a rising load is drawn on few ranges', () => {
    const keeper = createRangeKeeper(1);
    const seen = new Set<object>();
    for (let mass = 0; mass <= 320; mass += 1) seen.add(keeper.judge(0, mass, mass / 60));
    expect(seen.size).toBeLessThanOrEqual(20);
  });
});
