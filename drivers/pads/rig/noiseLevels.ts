/**
 * How rough the day is. Converter noise as an rms mass at 80 samples a second on a 500 kg pad:
 * common converter chips lie between 0.85 and 4.5 g (data sheets of two 24-bit bridge converters,
 * 500 kg cell of 2 mV/V at 5 V); 50 g stands for a bad cable or a generator next door. What the
 * radio loses is common practice, no source.
 */
export const RIG_NOISE_LEVELS = ['quiet', 'normal', 'harsh'] as const;
export type RigNoise = (typeof RIG_NOISE_LEVELS)[number];

export interface NoiseOfLevel {
  /** Standard deviation of one conversion at 80 Hz, kg. */
  readonly converter: number;
  /** Standard deviation of the slow wander of the zero, kg. */
  readonly wander: number;
  /** Chances per notification. */
  readonly lost: number;
  readonly duplicated: number;
  readonly late: number;
}

export const NOISE: Readonly<Record<RigNoise, NoiseOfLevel>> = {
  quiet: { converter: 0.002, wander: 0.002, lost: 0, duplicated: 0, late: 0 },
  normal: { converter: 0.005, wander: 0.006, lost: 0.0005, duplicated: 0, late: 0 },
  harsh: { converter: 0.05, wander: 0.03, lost: 0.02, duplicated: 0.005, late: 0.005 },
};
