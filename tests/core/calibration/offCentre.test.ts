import { describe, expect, test } from 'vitest';
import {
  offCentre,
  OFF_CENTRE_PLACES,
  type OffCentreFound,
  type OffCentrePlace,
  type OffCentreTest,
} from '../../../core/calibration/offCentre.ts';
import { measured } from '../../../core/measured.ts';

const readings = (
  values: readonly (readonly [OffCentrePlace, number])[],
  u = 0.01,
): OffCentreTest['readings'] =>
  values.map(([place, value]) => ({ place, read: measured(value, u, 20) }));

const found = (test_: Partial<OffCentreTest>): OffCentreFound => {
  const outcome = offCentre({
    readings: [],
    mass: 160,
    distance: 0.1,
    against: null,
    ...test_,
  });
  if (!outcome.ok) throw new Error(outcome.missing.join());
  return outcome.found;
};

/** A pad that reads 0.4 kg more per metre ahead and 0.9 less per metre to the left, 0.02 high. */
const TILTED = readings([
  ['middle', 160.02],
  ['front', 160.06],
  ['rear', 159.98],
  ['left', 159.93],
  ['right', 160.11],
  ['middle', 160.02],
]);

describe('the mass at the middle and four edges', () => {
  test('differences to the middle, the largest, the slope in either direction', () => {
    const of = found({ readings: TILTED });
    expect(of.places.map(({ place, difference }) => [place, difference.toFixed(2)])).toEqual([
      ['front', '0.04'],
      ['rear', '-0.04'],
      ['left', '-0.09'],
      ['right', '0.09'],
    ]);
    expect(Math.abs(of.largest)).toBeCloseTo(0.09, 9);
    expect(of.isSeen).toBe(true);
    expect(of.perMetre.ahead).toBeCloseTo(0.4, 9);
    expect(of.perMetre.left).toBeCloseTo(-0.9, 9);
    expect(of.drift).toBeCloseTo(0, 9);
    expect(of).toMatchObject({ testLoad: 160, outcome: 'not judged' });
  });

  test('what is within the scatter of placing is not seen', () => {
    const placed = readings([
      ['middle', 160],
      ['front', 160.1],
      ['rear', 159.95],
      ['left', 160.05],
      ['right', 159.9],
      ['right', 160.06],
      ['front', 159.98],
      ['rear', 160.04],
      ['middle', 160.1],
    ]);
    const of = found({ readings: placed });
    expect(of.isSeen).toBe(false);
    expect(of.drift).toBeCloseTo(0.1, 9);
  });

  test('each place within the limit of the load (OIML R 76-1:2006, 3.6.2)', () => {
    // 160 kg at e = 0.1 kg in class III: ±0.1 kg. The right edge is 0.11 kg out.
    const against = {
      is: 'class',
      accuracy: 'III',
      interval: 0.1,
      when: 'first verification',
    } as const;
    expect(found({ readings: TILTED, against }).outcome).toBe('outside');
    expect(found({ readings: TILTED, against: { ...against, when: 'in service' } }).outcome).toBe(
      'within',
    );
    expect(found({ readings: TILTED, against: { is: 'own', fixed: 0.12, share: 0 } }).outcome).toBe(
      'within',
    );
  });

  test('places still to be read are named; nonsense is refused', () => {
    expect(
      offCentre({ readings: TILTED.slice(0, 3), mass: 160, distance: 0.1, against: null }),
    ).toEqual({ ok: false, missing: ['left', 'right'] });
    expect(offCentre({ readings: [], mass: 160, distance: 0.1, against: null })).toEqual({
      ok: false,
      missing: [...OFF_CENTRE_PLACES],
    });
    expect(() => found({ readings: TILTED, distance: 0 })).toThrow(RangeError);
  });
});
