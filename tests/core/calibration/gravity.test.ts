import { describe, expect, test } from 'vitest';
import { normalGravity } from '../../../core/calibration/gravity.ts';
import { EXAMPLE_VENUES } from '../../../core/sheet/venue.ts';

const at = (latitude: number, height = 0): number => normalGravity({ latitude, height });

describe('normal gravity, WGS 84', () => {
  // Equator and pole: published defining constants of the system. The others: Somigliana's formula
  // evaluated in another language from the same published constants, to ten decimals.
  test.each([
    [0, 9.7803253359],
    [15, 9.7837849624],
    [30, 9.7932472692],
    [40, 9.8016968628],
    [45, 9.8061977694],
    [50, 9.8107021356],
    [52, 9.8124740779],
    [60, 9.8191769531],
    [75, 9.8286966275],
    [90, 9.8321849379],
  ])('at %d° and sea level', (latitude, gravity) => {
    expect(Math.abs(at(latitude) - gravity)).toBeLessThan(2e-10);
    expect(at(-latitude)).toBe(at(latitude));
  });

  // Second-order height term, computed as above, to nine decimals.
  test.each([
    [0, 1000, 9.777238367],
    [45, 100, 9.805889222],
    [45, 500, 9.804655176],
    [45, 1000, 9.803112944],
    [45, 2000, 9.800029564],
    [52, 75, 9.812242705],
    [90, 1000, 9.829102274],
    [-19.5, 3960, 9.77386717],
  ])('at %d° and %d m', (latitude, height, gravity) => {
    expect(Math.abs(at(latitude, height) - gravity)).toBeLessThan(1e-9);
  });

  test('agrees with another system, GRS 80 as published, to the difference between the two', () => {
    // IUGG 1980: 9.780326772, 9.806199203, 9.832186368 m/s²; WGS 84 is 1.43·10⁻⁶ lower throughout.
    for (const [latitude, grs80] of [
      [0, 9.780326772],
      [45, 9.806199203],
      [90, 9.832186368],
    ] as const)
      expect(grs80 - at(latitude)).toBeCloseTo(1.433e-6, 8);
  });

  test('is within a local anomaly of measured gravity', () => {
    // Gaithersburg reference station: D. R. Tate, J. Res. NBS 70C (1966): 9.801018 m/s².
    expect(Math.abs(at(39.13, 138) / 9.801018 - 1)).toBeLessThan(1e-4);
  });
});

test('the example venues, and what a span carried between them would misread', () => {
  const [larkfell, portSable] = EXAMPLE_VENUES.map((venue): number => normalGravity(venue));
  expect(larkfell).toBeCloseTo(9.813654, 6);
  expect(portSable).toBeCloseTo(9.792001, 6);
  expect((1305 * (portSable ?? NaN)) / (larkfell ?? NaN)).toBeCloseTo(1302.12, 2);
});

test('a latitude that is none is refused', () => {
  expect(() => at(90.1)).toThrow(RangeError);
  expect(() => at(NaN)).toThrow(RangeError);
});
