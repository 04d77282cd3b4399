import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { SAMPLE_FLAGS, type PadSample } from '../../../core/reading.ts';
import { second } from '../../../core/units.ts';
import { createFilter, type PadFilter } from '../../../drivers/pads/filter/filter.ts';
import { createNoise } from '../../core/signal/noise.ts';

interface Given {
  readonly t: number;
  readonly raw: number;
}

const feed = (filter: PadFilter, samples: readonly Given[], from = 0): PadSample[] =>
  samples.flatMap(({ t, raw }, index) => {
    const out = filter.push({ index: from + index, t: second(t), raw, flags: 0 });
    return out ? [out] : [];
  });

const through = (rate: number, samples: readonly Given[]): PadSample[] => {
  const filter = createFilter({ rate });
  const out = feed(filter, samples);
  const last = filter.flush();
  return last ? [...out, last] : out;
};

const isSpike = (sample: PadSample): boolean => (sample.flags & SAMPLE_FLAGS.spike) !== 0;

/** Sampling times, even or with the jitter of a clock that is not. */
const timesOf = (
  rate: number,
  options: { readonly count: number; readonly jitter: number; readonly seed: number },
): number[] => {
  const noise = createNoise(options.seed);
  return Array.from(
    { length: options.count },
    (_, index) => (index + options.jitter * (noise.uniform() - 0.5)) / rate,
  );
};

const rates = fc.constantFrom(10, 20, 40, 80);
const jitters = fc.constantFrom(0, 0.6);
const seeds = fc.integer({ min: 1, max: 1e6 });

describe('order and time', () => {
  test('every sample comes out once, one late, its raw counts untouched', () => {
    const noise = createNoise(1);
    const samples = timesOf(80, { count: 50, jitter: 0.2, seed: 2 }).map((t) => ({
      t,
      raw: Math.round(1000 + 5 * noise.normal()),
    }));
    const filter = createFilter({ rate: 80 });
    expect(filter.push({ index: 0, t: second(0), raw: 1, flags: 0 })).toBeNull();
    expect(filter.push({ index: 1, t: second(0.0125), raw: 2, flags: 0 })?.index).toBe(0);
    const out = through(80, samples);
    expect(out.map(({ index, t, raw }) => ({ index, t, raw }))).toEqual(
      samples.map((sample, index) => ({ index, ...sample })),
    );
  });

  test('flags of the sample are kept, a spike’s is added', () => {
    const filter = createFilter({ rate: 10 });
    const flags = SAMPLE_FLAGS.lowBattery | SAMPLE_FLAGS.overload;
    filter.push({ index: 0, t: second(0), raw: 5, flags });
    expect(filter.flush()?.flags).toBe(flags);
    expect(filter.flush()).toBeNull();
  });
});

describe('constant and steps', () => {
  test('a constant passes untouched, evenly sampled or not', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -8388608, max: 8388607 }),
        rates,
        jitters,
        seeds,
        (raw, rate, jitter, seed) => {
          const times = timesOf(rate, { count: 60, jitter, seed });
          for (const sample of through(
            rate,
            times.map((t) => ({ t, raw })),
          )) {
            expect(sample.clean).toBe(raw);
            expect(sample.smooth).toBe(raw);
            expect(sample.flags).toBe(0);
          }
        },
      ),
      { seed: 11, numRuns: 60 },
    );
  });

  test('a real step of any size passes', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 4_000_000 }),
        fc.constantFrom(0, 1, 30),
        fc.integer({ min: 1, max: 58 }),
        rates,
        seeds,
        (size, rms, at, rate, seed) => {
          const noise = createNoise(seed);
          const samples = timesOf(rate, { count: 60, jitter: 0, seed }).map((t, index) => ({
            t,
            raw: Math.round((index < at ? 0 : size) + rms * noise.normal()),
          }));
          const out = through(rate, samples);
          expect(out.filter(isSpike)).toEqual([]);
          expect(out.map(({ clean }) => clean)).toEqual(samples.map(({ raw }) => raw));
        },
      ),
      { seed: 12, numRuns: 200 },
    );
  });

  test('a load that changes for two samples is real', () => {
    const raw = Array.from({ length: 60 }, (_, index) => (index === 40 || index === 41 ? 9000 : 0));
    const out = through(
      80,
      raw.map((value, index) => ({ t: index / 80, raw: value })),
    );
    expect(out.filter(isSpike)).toEqual([]);
  });
});

describe('a car that moves is never taken for a spike', () => {
  test.each([10, 20, 40, 80])('let down and rocking at 2 to 5 Hz, sampled at %d Hz', (rate) => {
    const noise = createNoise(20 + rate);
    let spikes = 0;
    for (let drop = 0; drop < 150; drop += 1) {
      const omega = 2 * Math.PI * (2 + 3 * noise.uniform());
      const damping = 0.2 + 0.6 * noise.uniform();
      const start = 3 + noise.uniform();
      const load = 1e5 + 1e6 * noise.uniform();
      const samples = Array.from({ length: rate * 8 }, (_, index) => {
        const since = index / rate - start;
        const x =
          since < 0
            ? 0
            : load *
              (1 -
                Math.exp(-damping * omega * since) *
                  Math.cos(omega * Math.sqrt(1 - damping * damping) * since));
        return { t: index / rate, raw: Math.round(x + 20 * noise.normal()) };
      });
      spikes += through(rate, samples).filter(isSpike).length;
    }
    expect(spikes).toBe(0);
  });

  test('nor is noise alone, white or repeated by an oversampled converter', () => {
    const noise = createNoise(31);
    for (const [rms, repeats] of [
      [0.4, 1],
      [3, 1],
      [40, 1],
      [40, 4],
    ] as const) {
      let held = 0;
      const samples = Array.from({ length: 100_000 }, (_, index) => {
        if (index % repeats === 0) held = Math.round(500 + rms * noise.normal());
        return { t: index / 80, raw: held };
      });
      expect(through(80, samples).filter(isSpike)).toEqual([]);
    }
  });
});

describe('a lone spike', () => {
  test('of any size leaves `clean` within the noise, is flagged once and kept as raw', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -8_000_000, max: 8_000_000 }),
        fc.constantFrom(0, 1, 10, 40),
        fc.integer({ min: 20, max: 97 }),
        rates,
        jitters,
        seeds,
        (size, rms, at, rate, jitter, seed) => {
          const noise = createNoise(seed);
          const samples = timesOf(rate, { count: 100, jitter, seed }).map((t, index) => ({
            t,
            raw: Math.round(1000 + rms * noise.normal()) + (index === at ? size : 0),
          }));
          const out = through(rate, samples);
          // The limit is 11 standard deviations as estimated from 31 differences, or 16 counts.
          const limit = Math.max(25 * rms, 17);
          for (const sample of out) expect(Math.abs(sample.clean - 1000)).toBeLessThan(limit);
          expect(out[at]?.raw).toBe(samples[at]?.raw);
          const flagged = out.filter(isSpike).map(({ index }) => index);
          if (Math.abs(size) > limit) expect(flagged).toEqual([at]);
          else expect([[], [at]]).toContainEqual(flagged);
        },
      ),
      { seed: 41, numRuns: 300 },
    );
  });

  test('is replaced by what lies between its neighbours in time', () => {
    const samples = Array.from({ length: 30 }, (_, index) => ({ t: index, raw: index % 2 }));
    samples[20] = { t: 19.25, raw: 5000 };
    const out = through(10, samples);
    // Neighbours 1 (at 19) and 1 (at 21).
    expect(out[20]).toMatchObject({ raw: 5000, clean: 1, flags: SAMPLE_FLAGS.spike });
  });

  test('next to a gap, or before the noise is known, is not judged', () => {
    const early = through(
      10,
      [0, 0, 0, 900, 0, 0].map((raw, index) => ({ t: index / 10, raw })),
    );
    expect(early.filter(isSpike)).toEqual([]);

    const filter = createFilter({ rate: 10 });
    feed(
      filter,
      Array.from({ length: 20 }, (_, index) => ({ t: index / 10, raw: 0 })),
    );
    filter.push({ index: 20, t: second(2), raw: 900, flags: 0 });
    // The sample after it is lost: 900 might be the beginning of a step.
    const out = filter.push({ index: 22, t: second(2.2), raw: 0, flags: 0 });
    expect(out).toMatchObject({ index: 20, clean: 900, flags: 0 });
  });
});

describe('beginning anew', () => {
  const settleAt = (filter: PadFilter, raw: number): void => {
    feed(
      filter,
      Array.from({ length: 40 }, (_, index) => ({ t: index / 80, raw })),
    );
  };
  const begunAnew = (last: PadSample | null, next: PadSample | null): void => {
    expect(last?.smooth).toBe(1000);
    expect(next).toMatchObject({ clean: 5000, smooth: 5000 });
  };

  test('after a gap in the numbering', () => {
    const filter = createFilter({ rate: 80 });
    settleAt(filter, 1000);
    const last = filter.push({ index: 50, t: second(0.7), raw: 5000, flags: 0 });
    begunAnew(last, filter.flush());
  });

  test('after a flush, a restart of the pad, and a change of rate', () => {
    const flushed = createFilter({ rate: 80 });
    settleAt(flushed, 1000);
    const first = flushed.flush();
    flushed.push({ index: 40, t: second(0.5), raw: 5000, flags: 0 });
    begunAnew(first, flushed.flush());

    const restarted = createFilter({ rate: 80 });
    settleAt(restarted, 1000);
    const before = restarted.push({
      index: 40,
      t: second(0.5),
      raw: 5000,
      flags: SAMPLE_FLAGS.restarted,
    });
    begunAnew(before, restarted.flush());

    const slowed = createFilter({ rate: 80 });
    settleAt(slowed, 1000);
    const held = slowed.setRate(10);
    slowed.push({ index: 40, t: second(0.6), raw: 5000, flags: 0 });
    begunAnew(held, slowed.flush());
  });

  test('nonsense is refused', () => {
    expect(() => createFilter({ rate: 0 })).toThrow(RangeError);
    expect(() => createFilter({ rate: 80, resolution: 0 })).toThrow(RangeError);
  });
});
