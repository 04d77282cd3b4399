import type { Measured } from '../measured.ts';
import type { SpanDrift } from '../season/spanDrift.ts';
import type { TemperatureEffect } from '../season/temperatureEffect.ts';
import { unknownTerm, type CornerTerm, type FourParts } from './cornerTerm.ts';
import { effectiveDof, type Part } from './combine.ts';
import { fromHalfWidth, fromResolution } from './standardUncertainty.ts';

/** One value for each corner, LF, RF, LR, RR; null where it is not known for that pad. */
export type FourKnown<T> = readonly [T | null, T | null, T | null, T | null];

const NOTHING: Part = { u: 0, dof: Infinity };
const SURE = Infinity;

/** A term of four independent parts, unknown as soon as one pad's is. */
const eachOf = (
  head: Pick<CornerTerm, 'name' | 'kind' | 'distribution'>,
  parts: FourKnown<Part>,
  words: { readonly source: string; readonly need: string },
): CornerTerm => {
  const [a, b, c, d] = parts;
  if (!a || !b || !c || !d)
    return unknownTerm(head.name, head.kind, { need: words.need, pattern: null });
  return { ...head, effect: { sort: 'each', parts: [a, b, c, d] }, source: words.source };
};

const mapFour = <T, R>(
  values: FourKnown<T>,
  make: (value: T, index: 0 | 1 | 2 | 3) => R | null,
): FourKnown<R> => {
  const at = (index: 0 | 1 | 2 | 3): R | null => {
    const value = values[index];
    return value === null ? null : make(value, index);
  };
  return [at(0), at(1), at(2), at(3)];
};

/** Calibration of each pad at its load: standard uncertainty of the curve there, kg. */
export const calibrationTerm = (curves: FourKnown<Part>): CornerTerm =>
  eachOf({ name: 'calibration', kind: 'A', distribution: 't' }, curves, {
    source: 'scatter of the calibration, taken through its curve',
    need: 'calibrate every pad with reference masses',
  });

/**
 * Masses of the calibrations: one set for all pads, so one error of all, in proportion to the load.
 * Relative standard uncertainty; for nominal values tolerance/√3 (EURAMET cg-18, 7.1.2).
 */
export const referenceMassesTerm = (weights: FourParts, relative: Part | null): CornerTerm =>
  relative === null
    ? unknownTerm('referenceMasses', 'B', {
        need: 'state the class or certificate of the masses',
        pattern: weights,
      })
    : {
        name: 'referenceMasses',
        kind: 'B',
        distribution: 'rectangular',
        effect: { sort: 'together', pattern: weights, u: relative.u, dof: relative.dof },
        source: 'tolerance or certificate of the masses, common to all pads',
      };

/** What is known of one pad's zero, kg. */
export interface ZeroKnown {
  /** Scatter of the zero as it was read. */
  readonly reading: Part;
  /** Zero found after the car was raised again less that before; null until then. */
  readonly shiftAfter: number | null;
  /** Standard deviation of such shifts in the past, where there are any. */
  readonly shiftHistory: Part | null;
}

/**
 * Zero of each pad: as it was read, and what it moved until the car stood. Read again afterwards, the
 * shift bounds that: nothing is taken out, so it lies within ± its size, rectangular. Before that the
 * shifts of the past stand for it.
 */
export const zeroTerm = (zeros: FourKnown<ZeroKnown>): CornerTerm =>
  eachOf(
    { name: 'zero', kind: 'A', distribution: 't' },
    mapFour(zeros, ({ reading, shiftAfter, shiftHistory }) => {
      const moved: Part | null =
        shiftAfter !== null
          ? { u: fromHalfWidth(Math.abs(shiftAfter), 'rectangular'), dof: SURE }
          : shiftHistory;
      if (!moved) return null;
      return { u: Math.hypot(reading.u, moved.u), dof: effectiveDof([reading, moved]) };
    }),
    {
      source: 'zero as read, and its shift by the time the car was raised again',
      need: 'raise the car and read the zeros again',
    },
  );

/** What is known of one pad's memory, kg at the load in question. */
export interface MemoryKnown {
  /** Largest difference of unloading and loading at one load. */
  readonly hysteresis: number;
  /** Change under a standing load between the time of reading in the calibration and here. */
  readonly creep: number;
}

/** Creep and hysteresis: |ΔI|/(2√3) for the loop (EURAMET cg-18), creep rectangular within ±. */
export const creepAndHysteresisTerm = (pads: FourKnown<MemoryKnown>): CornerTerm =>
  eachOf(
    { name: 'creepAndHysteresis', kind: 'B', distribution: 'rectangular' },
    mapFour(pads, ({ hysteresis, creep }) => ({
      u: Math.hypot(
        fromHalfWidth(Math.abs(hysteresis) / 2, 'rectangular'),
        fromHalfWidth(Math.abs(creep), 'rectangular'),
      ),
      dof: SURE,
    })),
    {
      source: 'hysteresis loop and creep of the calibration',
      need: 'calibrate up and down, and leave the top load on for a while',
    },
  );

/** Span drift of each pad since its calibration, left in: from checks with a known mass. */
export const spanDriftTerm = (weights: FourParts, drifts: FourKnown<SpanDrift>): CornerTerm =>
  eachOf(
    { name: 'spanDrift', kind: 'B', distribution: 'normal' },
    mapFour(drifts, (drift, index) =>
      drift.known ? { u: Math.abs(weights[index]) * drift.ifLeftIn, dof: drift.drift.dof } : null,
    ),
    {
      source: 'checks with a known mass since the calibration',
      need: 'check each pad with a known mass',
    },
  );

/** Resolution: one step at the zero and one at the load, each step/√12 (EURAMET cg-18, 7.1.1). */
export const resolutionTerm = (steps: FourKnown<number>): CornerTerm =>
  eachOf(
    { name: 'resolution', kind: 'B', distribution: 'rectangular' },
    mapFour(steps, (step) => ({ u: Math.SQRT2 * fromResolution(step), dof: SURE })),
    { source: 'one step at zero and one at the load', need: 'the step of the pad’s number' },
  );

/** Temperature of one pad, against that of its zero and of its calibration. */
export interface TemperatureKnown {
  /** Effects on the zero (kg) and on the span (relative), from history. */
  readonly zero: TemperatureEffect;
  readonly span: TemperatureEffect;
  /** Kelvin between zero and reading, and between calibration and reading; null where not known. */
  readonly sinceZero: number | null;
  readonly sinceCalibration: number | null;
}

/**
 * Temperature, nothing being corrected: the effect found times the change, as a bound. An effect the
 * data do not support but do bound counts with that bound; without either the term is unknown.
 */
export const temperatureTerm = (
  weights: FourParts,
  pads: FourKnown<TemperatureKnown>,
): CornerTerm => {
  const left = (effect: TemperatureEffect, kelvin: number | null): Part | null => {
    if (kelvin === 0) return NOTHING;
    const slope: Measured | null = effect.supported ? effect.perKelvin : effect.bound;
    if (kelvin === null || slope === null) return null;
    return { u: Math.abs(kelvin) * Math.hypot(slope.value, slope.u), dof: slope.dof };
  };
  return eachOf(
    { name: 'temperature', kind: 'B', distribution: 'normal' },
    mapFour(pads, ({ zero, span, sinceZero, sinceCalibration }, index) => {
      const onZero = left(zero, sinceZero);
      const onSpan = left(span, sinceCalibration);
      if (!onZero || !onSpan) return null;
      const parts = [onZero, { ...onSpan, u: Math.abs(weights[index]) * onSpan.u }];
      return { u: Math.hypot(...parts.map(({ u }) => u)), dof: effectiveDof(parts) };
    }),
    {
      source: 'effects found in the history times the change of temperature, not taken out',
      need: 'zeros and checks over a wider range of temperature, from pads that tell theirs',
    },
  );
};

/** Test of a pad with the mass in the middle and at four edges. */
export interface OffCentreKnown {
  /** Largest difference to the middle, kg, at the test load, kg. */
  readonly largest: number;
  readonly testLoad: number;
  /** How far out the wheel stands, as a share of the distance in the test; 1 where not known. */
  readonly reach: number;
}

/** Off-centre load: |ΔI|/(2·L·√3) times the load (EURAMET cg-18, 7.1.1), by how far out it stands. */
export const offCentreTerm = (weights: FourParts, pads: FourKnown<OffCentreKnown>): CornerTerm =>
  eachOf(
    { name: 'offCentreLoad', kind: 'B', distribution: 'rectangular' },
    mapFour(pads, ({ largest, testLoad, reach }, index) => {
      if (!(testLoad > 0)) throw new RangeError(`not a test load: ${testLoad}`);
      const relative = fromHalfWidth(Math.abs(largest) / (2 * testLoad), 'rectangular');
      return { u: Math.abs(weights[index]) * relative * reach, dof: SURE };
    }),
    {
      source: 'off-centre test of each pad',
      need: 'weigh a mass at the middle and four edges of each pad',
    },
  );
