import { describe, expect, test } from 'vitest';
import { createAirFaults } from '../../../drivers/pads/rig/airFaults.ts';
import { NOISE } from '../../../drivers/pads/rig/noiseLevels.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';

const pass = (level: keyof typeof NOISE, n: number, seed: number): number[] => {
  const air = createAirFaults(NOISE[level], createRandom(seed));
  const got: number[] = [];
  for (let i = 0; i < n; i += 1) {
    const bytes = new Uint8Array(4);
    new DataView(bytes.buffer).setUint32(0, i);
    air.pass(bytes, (sent) => got.push(new DataView(sent.buffer).getUint32(0)));
  }
  return got;
};

describe('the air', () => {
  test('quiet passes everything once, in order', () => {
    const got = pass('quiet', 20_000, 1);
    expect(got).toEqual(Array.from({ length: 20_000 }, (_, i) => i));
  });

  test('normal loses 0.05 % and does nothing else', () => {
    const n = 200_000;
    const got = pass('normal', n, 2);
    const lost = n - got.length;
    // Binomial: mean 100, standard deviation 10.
    expect(Math.abs(lost - 100)).toBeLessThan(40);
    expect(got.every((value, i) => i === 0 || value > (got[i - 1] as number))).toBe(true);
  });

  test('harsh loses 2 %, doubles and delays 0.5 % each, by two or three places', () => {
    const n = 100_000;
    const got = pass('harsh', n, 3);
    const seen = new Map<number, number>();
    let late = 0;
    let newest = -1;
    for (const value of got) {
      seen.set(value, (seen.get(value) ?? 0) + 1);
      if (value < newest) {
        late += 1;
        expect(newest - value).toBeLessThanOrEqual(6);
      }
      newest = Math.max(newest, value);
    }
    const lost = n - seen.size;
    const twice = [...seen.values()].filter((count) => count === 2).length;
    expect(Math.abs(lost - 2000)).toBeLessThan(4 * Math.sqrt(2000));
    expect(Math.abs(twice - 490)).toBeLessThan(4 * Math.sqrt(490));
    expect(Math.abs(late - 485)).toBeLessThan(4 * Math.sqrt(485) + 15);
    expect(Math.max(...seen.values())).toBe(2);
  });

  test('what is held back is forgotten when the link is gone', () => {
    const air = createAirFaults({ lost: 0, duplicated: 0, late: 1 }, createRandom(4));
    const got: Uint8Array[] = [];
    const send = (bytes: Uint8Array): void => {
      got.push(bytes);
    };
    air.pass(Uint8Array.of(1), send);
    air.clear();
    expect(got).toEqual([]);
    expect(air.count).toEqual({ passed: 1, lost: 0, duplicated: 0, late: 1 });
  });
});
