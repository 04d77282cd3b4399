import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createRing } from '../../../core/ring.ts';

const make = (capacity: number) => createRing({ capacity, columns: ['raw', 'clean'] });

describe('cursors', () => {
  test('a reader gets what is new, then nothing, then is lapped', () => {
    const ring = make(4);
    for (let index = 0; index < 3; index += 1) ring.push({ t: index, raw: index, clean: -index });
    expect(ring.since(0)).toEqual({ from: 0, to: 3 });
    expect(ring.since(3)).toEqual({ from: 3, to: 3 });
    for (let index = 3; index < 6; index += 1) ring.push({ t: index, raw: index, clean: -index });
    expect([ring.begin, ring.end]).toEqual([2, 6]);
    expect(ring.since(1)).toBe('lapped');
    expect(ring.since(2)).toEqual({ from: 2, to: 6 });
    expect(ring.timeAt(1)).toBeNaN();
    expect(ring.valueAt('clean', 2)).toBe(-2);
    expect(ring.valueAt('raw', 6)).toBeNaN();
  });

  test('forgetting laps every reader, also one that had read all', () => {
    const ring = make(4);
    ring.push({ t: 0, raw: 1, clean: 1 });
    const cursor = ring.end;
    ring.clear();
    expect(ring.since(cursor)).toBe('lapped');
    expect(ring.timeAt(cursor)).toBeNaN();
    ring.push({ t: 9, raw: 7, clean: 7 });
    expect(ring.since(ring.begin)).toEqual({ from: ring.begin, to: ring.begin + 1 });
    expect(ring.valueAt('raw', ring.begin)).toBe(7);
  });

  test('holes are entries', () => {
    const ring = make(8);
    ring.push({ t: 1, raw: 5, clean: 5 });
    ring.pushHole(1.1);
    expect(ring.end).toBe(2);
    expect(ring.timeAt(1)).toBe(1.1);
    expect(ring.valueAt('raw', 1)).toBeNaN();
  });

  test('nonsense is refused', () => {
    expect(() => make(0)).toThrow(RangeError);
    expect(() => make(1.5)).toThrow(RangeError);
    const ring = make(2);
    ring.push({ t: 0, raw: 1, clean: 1 });
    expect(() => ring.copy('raw', { from: 0, to: 1 }, new Float64Array(0))).toThrow(RangeError);
  });
});

test('reading in any chops equals keeping everything', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 9 }),
      fc.array(fc.integer({ min: 0, max: 12 }), { maxLength: 20 }),
      (capacity, chops) => {
        const ring = make(capacity);
        const all: number[] = [];
        let cursor = 0;
        for (const chop of chops) {
          for (let index = 0; index < chop; index += 1) {
            ring.push({ t: all.length, raw: all.length * 3, clean: 0 });
            all.push(all.length * 3);
          }
          const part = ring.since(cursor);
          if (part === 'lapped') {
            expect(all.length - cursor).toBeGreaterThan(capacity);
            cursor = ring.begin;
            continue;
          }
          const out = new Float64Array(capacity);
          const count = ring.copy('raw', part, out);
          expect([...out.subarray(0, count)]).toEqual(all.slice(cursor));
          const times = new Float64Array(capacity);
          ring.copy('t', part, times);
          const column = ring.column('raw');
          for (let at = part.from; at < part.to; at += 1) {
            expect(ring.timeAt(at)).toBe(at);
            expect(times[at - part.from]).toBe(at);
            expect(column.valueAt(at)).toBe(at * 3);
          }
          cursor = part.to;
        }
        expect(ring.end).toBe(all.length);
        for (let t = -1; t <= all.length; t += 0.5)
          expect(ring.firstAt(t)).toBe(Math.min(ring.end, Math.max(ring.begin, Math.ceil(t))));
      },
    ),
    { seed: 1, numRuns: 200 },
  );
});
