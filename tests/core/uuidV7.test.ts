import { describe, expect, test } from 'vitest';
import { createIdMaker, uuidV7 } from '../../core/uuidV7.ts';

describe('uuidV7', () => {
  test('lays out the bits of the example in RFC 9562, appendix A.6', () => {
    // unix_ts_ms 0x017F22E279B0, rand_a 0xCC3, rand_b 0x18C4DC0C0C07398F.
    const random = [0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f];
    expect(uuidV7(0x017f22e279b0, Uint8Array.from(random))).toBe(
      '017f22e2-79b0-7cc3-98c4-dc0c0c07398f',
    );
  });

  test('sets version 7 and variant 10 whatever the bytes are, and leaves the bytes alone', () => {
    const ones = new Uint8Array(10).fill(0xff);
    expect(uuidV7(2 ** 48 - 1, ones)).toBe('ffffffff-ffff-7fff-bfff-ffffffffffff');
    expect(uuidV7(0, new Uint8Array(10))).toBe('00000000-0000-7000-8000-000000000000');
    expect(ones).toEqual(new Uint8Array(10).fill(0xff));
  });

  test.each([-1, 2 ** 48, 0.5, Number.NaN])('refuses the time %s', (time) => {
    expect(() => uuidV7(time, new Uint8Array(10))).toThrow(RangeError);
  });

  test('refuses too few bytes', () => {
    expect(() => uuidV7(0, new Uint8Array(9))).toThrow(RangeError);
  });
});

describe('createIdMaker', () => {
  const countFrom = (id: string): number => parseInt(id.slice(15, 18), 16);

  test('ascends within a millisecond and when the wall clock is set back', () => {
    const times = [1000, 1000, 1000, 400, 1001];
    let at = 0;
    const make = createIdMaker({
      wallClock: () => times[at++] ?? 0,
      randomBytes: (count) => new Uint8Array(count).fill(0xff - at),
    });
    const ids = times.map(() => make());
    expect(ids.toSorted()).toEqual(ids);
    expect(new Set(ids).size).toBe(ids.length);
  });

  test('leaves room to count, and borrows a millisecond when it is used up', () => {
    const make = createIdMaker({
      wallClock: () => 5,
      randomBytes: (count) => new Uint8Array(count).fill(0xff),
    });
    const first = make();
    // The counter starts with its top bit clear (RFC 9562, 6.2), here at the highest such start.
    expect(countFrom(first)).toBe(0x7ff);
    let last = first;
    for (let n = 0x7ff; n < 0xfff; n++) {
      const next = make();
      expect(next > last).toBe(true);
      last = next;
    }
    expect(last.slice(0, 18)).toBe('00000000-0005-7fff');
    expect(make().slice(0, 18)).toBe('00000000-0006-77ff');
  });
});
