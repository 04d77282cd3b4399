import { describe, expect, test } from 'vitest';
import { cutoffFor } from '../../../drivers/pads/filter/filter.ts';
import { createLowPass } from '../../../drivers/pads/filter/lowPass.ts';
import { createNoiseScale } from '../../../drivers/pads/filter/noiseScale.ts';
import { createNoise } from '../../core/signal/noise.ts';

/** Gain at a frequency, from the sine that comes out once the beginning has died away. */
const gain = (cutoff: number, hertz: number, rate: number): number => {
  const filter = createLowPass(cutoff);
  let inPhase = 0;
  let quadrature = 0;
  const periods = 40;
  const count = Math.round((periods * rate) / hertz);
  for (let index = 0; index < 2 * count; index += 1) {
    const t = index / rate;
    const turn = 2 * Math.PI * hertz * t;
    const out = filter.next(t, Math.sin(turn));
    if (index < count) continue;
    inPhase += out * Math.sin(turn);
    quadrature += out * Math.cos(turn);
  }
  return (2 * Math.hypot(inPhase, quadrature)) / count;
};

describe('second-order Butterworth', () => {
  // |H(f)| = 1/√(1 + (f/fc)⁴); what the straight lines between samples take is sinc²(f/rate).
  const expected = (cutoff: number, hertz: number, rate: number): number => {
    const x = (Math.PI * hertz) / rate;
    return (Math.sin(x) / x) ** 2 / Math.sqrt(1 + (hertz / cutoff) ** 4);
  };
  test.each([
    [3, 0.5, 80],
    [3, 3, 80],
    [3, 5, 80],
    [3, 12, 80],
    [2.5, 1, 10],
    [2.5, 2.5, 20],
  ])('cutoff %d Hz, gain at %d Hz, sampled at %d Hz', (cutoff, hertz, rate) => {
    expect(gain(cutoff, hertz, rate)).toBeCloseTo(expected(cutoff, hertz, rate), 2);
  });

  test('its cutoff is 3 Hz, or a quarter of a low rate', () => {
    expect([10, 12, 20, 40, 80].map(cutoffFor)).toEqual([2.5, 3, 3, 3, 3]);
  });

  test('follows a ramp √2/ω behind, and the closed form of a step', () => {
    const omega = 2 * Math.PI * 3;
    const ramp = createLowPass(3);
    let out = 0;
    for (let index = 0; index <= 400; index += 1) out = ramp.next(index / 80, index / 80);
    expect(out).toBeCloseTo(5 - Math.SQRT2 / omega, 9);

    // A step within a microsecond, then seen at uneven times: 1 − e^(−at)(cos at + sin at).
    const step = createLowPass(3);
    step.next(0, 0);
    step.next(1e-6, 1);
    const a = omega / Math.SQRT2;
    for (const t of [0.01, 0.013, 0.08, 0.081, 0.3, 0.31])
      expect(step.next(t, 1)).toBeCloseTo(
        1 - Math.exp(-a * t) * (Math.cos(a * t) + Math.sin(a * t)),
        4,
      );
  });

  test('sampling it more finely does not change what it says of a straight line', () => {
    const coarse = createLowPass(3);
    const fine = createLowPass(3);
    coarse.next(0, 0);
    fine.next(0, 0);
    const at = coarse.next(0.1, 7);
    let finely = 0;
    for (const share of [0.1, 0.25, 0.6, 0.61, 0.99, 1]) finely = fine.next(0.1 * share, 7 * share);
    expect(finely).toBeCloseTo(at, 12);
  });
});

test('the noise scale is the median of the newest differences', () => {
  const noise = createNoise(9);
  const scale = createNoiseScale({ size: 31, enough: 8 });
  const all: number[] = [];
  for (let index = 0; index < 400; index += 1) {
    const value = Math.floor(20 * noise.uniform());
    scale.push(value);
    all.push(value);
    const newest = all.slice(-31).toSorted((a, b) => a - b);
    const middle = newest.length >> 1;
    const median =
      newest.length % 2 === 1
        ? newest[middle]
        : ((newest[middle] as number) + (newest[middle - 1] as number)) / 2;
    expect(scale.median()).toBe(newest.length < 8 ? null : median);
    expect(scale.largestBefore(8)).toBe(Math.max(0, ...all.slice(0, -1).slice(-8)));
  }
});
