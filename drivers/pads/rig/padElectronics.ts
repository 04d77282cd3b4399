import { SAMPLE_FLAGS, type PadRating } from '../../../core/reading.ts';
import { STANDARD_GRAVITY } from '../../../core/units.ts';
import { NOISE, type RigNoise } from './noiseLevels.ts';
import type { Random } from './random.ts';

/**
 * From force to counts, as a strain-gauge pad with a 24-bit converter does it: a span a little off
 * its rating, a zero, noise, wander, creep, temperature. Magnitudes are those of C3-grade cells
 * (OIML R 60) and of a common converter chip at ±20 mV; every pad has its own, from its seed.
 */
export interface PadElectronics {
  readonly rating: PadRating;
  /** Converts the force at time `t` (s, never going back) at a rate of `rate` Hz. */
  convert(force: number, t: number, rate: number): number;
  /** Flags of the conversion before: overload, saturated, low battery. */
  flags(): number;
  /** °C and percent at the conversion before. */
  temperature(): number;
  battery(): number;
  /** Sets the charge, percent: for scripts. */
  setBattery(percent: number): void;
  /** Adds a lone error to the next conversion, kg: for scripts. */
  spike(mass: number): void;
  /** What a test may know: the true span against the rating, and the true zero, counts. */
  readonly spanError: number;
  readonly zero: number;
}

/**
 * Rated 500 kg; 2 mV/V at 5 V is 10 mV on a range of ±20 mV, so the rated load adds 2²² counts
 * (8388.608 a kilogram).
 */
export const RIG_PAD_RATING: PadRating = {
  ratedLoad: 500,
  countsAtRatedLoad: 2 ** 22,
  resolution: 1,
};

const CONVERTER_LIMIT = 2 ** 23 - 1;
/**
 * Rate at which the noise levels are stated; averaging in the converter makes slower rates quieter.
 */
const NOISE_RATE = 80;
/**
 * Rated output is good to ±0.1 % before calibration; zero balance to ±5 %: half and a bit of these.
 */
const SPAN_ERROR = 0.0005;
const ZERO_BALANCE = 0.02;
/**
 * Creep: share of the load that comes later (R 60 C3: at most 0.0245 % of the maximum in 30 min),
 * and how.
 */
const CREEP_SHARE = 0.0002;
const CREEP_TIME = 240;
/**
 * Zero by temperature: 0.0014 %/°C of the maximum (R 60, v_min = E_max/10000). Span: 0.0175 %/10
 * °C.
 */
const ZERO_PER_DEGREE = 0.000014;
const SPAN_PER_DEGREE = 0.0000175;
/** A paddock: its temperature wanders, and a pad warms by itself after switching on. */
const AIR_TEMPERATURE = 19;
const AIR_WANDER = { sd: 0.8, time: 1200 } as const;
const WARMING = { by: 1.2, time: 600 } as const;
const ZERO_WANDER_TIME = 400;
const BATTERY_PER_HOUR = 3;
/** Percent at and under which the pad reports a low battery. */
const LOW_BATTERY = 15;

/** Makes one pad's electronics. */
export const createPadElectronics = (level: RigNoise, random: Random): PadElectronics => {
  const rating = RIG_PAD_RATING;
  const noise = NOISE[level];
  const countsPerNewton = rating.countsAtRatedLoad / (rating.ratedLoad * STANDARD_GRAVITY);
  const countsPerKilogram = countsPerNewton * STANDARD_GRAVITY;
  const spanError = random.between(-SPAN_ERROR, SPAN_ERROR);
  const zero = Math.round(random.between(-ZERO_BALANCE, ZERO_BALANCE) * rating.countsAtRatedLoad);
  const creepShare = CREEP_SHARE * random.between(0.3, 1);
  const zeroPerDegree = ZERO_PER_DEGREE * random.between(-1, 1) * rating.countsAtRatedLoad;
  const spanPerDegree = SPAN_PER_DEGREE * random.between(-1, 1);
  const startTemperature = AIR_TEMPERATURE + random.normal() * 0.4;
  /**
   * [time before, force that has crept, zero wander kg, air wander, temperature, charge, spike kg]
   */
  const state = Float64Array.of(NaN, 0, 0, 0, startTemperature, random.between(55, 98), 0);
  const [T, CREPT, WANDER, AIR, WARM, CHARGE, SPIKE] = [0, 1, 2, 3, 4, 5, 6] as const;
  const at = (index: number): number => state[index] as number;
  let flags = 0;
  let began = 0;

  const pass = (t: number, force: number): void => {
    if (Number.isNaN(at(T))) {
      began = t;
      state[T] = t;
    }
    const dt = t - at(T);
    state[T] = t;
    state[CREPT] = force + (at(CREPT) - force) * Math.exp(-dt / CREEP_TIME);
    // Ornstein-Uhlenbeck processes: they wander about a mean and do not walk away.
    const zeroKept = Math.exp(-dt / ZERO_WANDER_TIME);
    state[WANDER] =
      at(WANDER) * zeroKept + noise.wander * Math.sqrt(1 - zeroKept ** 2) * random.normal();
    const airKept = Math.exp(-dt / AIR_WANDER.time);
    state[AIR] = at(AIR) * airKept + AIR_WANDER.sd * Math.sqrt(1 - airKept ** 2) * random.normal();
    state[WARM] =
      startTemperature + at(AIR) + WARMING.by * (1 - Math.exp(-(t - began) / WARMING.time));
    state[CHARGE] = Math.max(0, at(CHARGE) - (dt / 3600) * BATTERY_PER_HOUR);
  };

  return {
    rating,
    spanError,
    zero,
    convert: (force, t, rate) => {
      pass(t, force);
      const warmer = at(WARM) - startTemperature;
      const span = countsPerNewton * (1 + spanError + spanPerDegree * warmer);
      const sd = noise.converter * Math.sqrt(rate / NOISE_RATE);
      const counts = Math.round(
        zero +
          span * (force + creepShare * at(CREPT)) +
          zeroPerDegree * warmer +
          countsPerKilogram * (at(WANDER) + at(SPIKE) + sd * random.normal()),
      );
      state[SPIKE] = 0;
      flags = 0;
      if (force > rating.ratedLoad * STANDARD_GRAVITY) flags |= SAMPLE_FLAGS.overload;
      if (at(CHARGE) <= LOW_BATTERY) flags |= SAMPLE_FLAGS.lowBattery;
      if (Math.abs(counts) < CONVERTER_LIMIT) return counts;
      flags |= SAMPLE_FLAGS.saturated;
      return Math.sign(counts) * CONVERTER_LIMIT;
    },
    flags: () => flags,
    temperature: () => at(WARM),
    battery: () => at(CHARGE),
    setBattery: (percent) => {
      state[CHARGE] = Math.max(0, Math.min(100, percent));
    },
    spike: (mass) => {
      state[SPIKE] = mass;
    },
  };
};
