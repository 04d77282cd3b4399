import { describe, expect, test } from 'vitest';
import { airDensity, buoyancyError } from '../../../core/calibration/airBuoyancy.ts';
import { appliedMass, massKnown } from '../../../core/calibration/appliedMass.ts';
import { massClassLimit } from '../../../core/calibration/massClassLimit.ts';
import { massSetSchema, type ReferenceMass } from '../../../core/sheet/massSet.ts';

const mass = (value: number, basis: ReferenceMass['basis'], id = 'a'): ReferenceMass => ({
  id,
  label: `${value} kg`,
  nominal: { value, unit: 'kg' },
  basis,
});

describe('limits of OIML R 111-1:2004, table 1, milligram', () => {
  test.each([
    [50, 'E1', 25],
    [50, 'M3', 25_000],
    [20, 'F1', 100],
    [20, 'M1', 1_000],
    [10, 'M2', 1_600],
    [5, 'E2', 8],
    [2, 'F2', 30],
    [1, 'M1', 50],
    [0.5, 'M3', 250],
  ] as const)('%d kg %s', (nominal, massClass, milligram) => {
    expect(massClassLimit(nominal, massClass)).toBeCloseTo(milligram * 1e-6, 12);
  });

  test('no other nominal value has a class, and E1 ends at 50 kg', () => {
    expect(massClassLimit(25, 'M1')).toBeNull();
    expect(massClassLimit(22.6796, 'M1')).toBeNull();
    expect(massClassLimit(100, 'E1')).toBeNull();
  });
});

test('fifteen M1 weights of 20 kg: the parts of EURAMET cg-18', () => {
  const set = Array.from({ length: 15 }, (_, index) =>
    mass(20, { is: 'class', class: 'M1' }, `m${index}`),
  );
  const { value, u, parts } = appliedMass(set);
  expect(value).toBe(300);
  // cg-18 v4.0, 7.1.2 and 7.1.3: tolerance/√3, mpe/(4√3), mpe/(3√3), added over the set; computed by hand.
  expect(parts?.mass).toBeCloseTo(0.00866025, 8);
  expect(parts?.buoyancy).toBeCloseTo(0.00216506, 8);
  expect(parts?.drift).toBeCloseTo(0.00288675, 8);
  expect(u).toBeCloseTo(Math.hypot(0.00866025, 0.00216506, 0.00288675), 8);
});

test('a certificate gives its value and U/k, a tolerance a/√3', () => {
  const certified = massKnown(
    mass(20, { is: 'certificate', value: 20.0012, expanded: 0.0003, coverageFactor: 2 }),
  );
  expect(certified.value).toBe(20.0012);
  expect(certified.parts?.mass).toBeCloseTo(0.00015, 12);
  // Air: at most (0.95 − 1.2)·(1/8000 − 1/6500), 7.2 parts in a million, rectangular.
  expect(certified.parts?.buoyancy).toBeCloseTo((20.0012 * 7.2115e-6) / Math.sqrt(3), 8);
  const plain = massKnown(mass(20, { is: 'tolerance', halfWidth: 0.05 }));
  expect(plain.parts?.mass).toBeCloseTo(0.0288675, 7);
});

test('one mass known only by its number makes the sum unknown; none at all is exactly none', () => {
  const unknown = mass(20, { is: 'number only' }, 'b');
  expect(appliedMass([mass(20, { is: 'class', class: 'M1' }), unknown])).toEqual({
    value: 40,
    u: null,
    parts: null,
  });
  expect(massKnown(mass(25, { is: 'class', class: 'M1' })).u).toBeNull();
  expect(appliedMass([])).toMatchObject({ value: 0, u: 0 });
});

test('pounds are kilograms inside', () => {
  const pounds: ReferenceMass = {
    ...mass(50, { is: 'tolerance', halfWidth: 0.001 }),
    nominal: { value: 50, unit: 'lb' },
  };
  // 50 × 0.45359237 kg, exact.
  expect(massKnown(pounds).value).toBeCloseTo(22.6796185, 10);
});

describe('air', () => {
  test('approximate CIPM formula (OIML R 111-1, E.3), kg/m³', () => {
    expect(airDensity({ temperature: 20, pressure: 1013.25, humidity: 50 })).toBeCloseTo(
      1.1992943,
      6,
    );
    expect(airDensity({ temperature: 35, pressure: 1013.25, humidity: 30 })).toBeCloseTo(
      1.1384519,
      6,
    );
    expect(airDensity({ temperature: 10, pressure: 850, humidity: 40 })).toBeCloseTo(1.043777, 6);
  });

  test('20 kg of cast iron in air of 1.0 kg/m³ pull 63.4 mg more than their conventional mass', () => {
    // Thinner air lifts less, and cast iron is lifted more than 8000 kg/m³ is: by the definition.
    expect(20e6 * buoyancyError(7100, 1)).toBeCloseTo(63.4, 1);
    expect(buoyancyError(8000, 0.9)).toBe(-0);
  });
});

test('a set names each mass once', () => {
  const one = mass(20, { is: 'class', class: 'M1' });
  expect(massSetSchema.safeParse({ id: 's', name: 'Set', masses: [one] }).success).toBe(true);
  expect(massSetSchema.safeParse({ id: 's', name: 'Set', masses: [one, one] }).success).toBe(false);
});
