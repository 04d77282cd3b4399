/** What the sender plants and the page is asked for: the same numbers on both sides. */

export const SIZE = { width: 780, height: 360 } as const;
export const SPAN = 20;
export const BASE = 300;
/** One lone sample this much above the rest, kg, so that drawing less cannot win. */
export const SPIKE = 40;
/** Seconds between spikes of a corner. */
export const SPIKE_EVERY = 2.3;

export const VARIANTS = ['receive only', 'figures', 'ours', 'uPlot'] as const;
export type Variant = (typeof VARIANTS)[number];

/** Mass of a corner's sample at time `t`, kg: a slow swing, a little noise, and the spikes. */
export const massAt = (corner: number, t: number, rate: number): number => {
  const step = 1 / rate;
  const since = t % SPIKE_EVERY;
  const spike = since < step ? SPIKE : 0;
  const noise = Math.sin(t * 9973.1 + corner * 77.7) * 0.4 + Math.sin(t * 3331.7) * 0.3;
  return BASE + corner * 3 + 8 * Math.sin(t * 0.7 + corner) + noise + spike;
};

/** What the page measured in one block. */
export interface Measured {
  /** Milliseconds between animation frames. */
  readonly intervals: readonly number[];
  /** Milliseconds from a frame's receipt to after the paint that shows it. */
  readonly latencies: readonly number[];
  /** Changes of a drawing in the page, all four charts together. */
  readonly commits: number;
  readonly longTasks: readonly number[];
  readonly seconds: number;
  /** Of the spikes that must be seen, those that are. */
  readonly spikesSeen: number;
  readonly spikesPlanted: number;
}

declare global {
  interface Window {
    bench: { measure(seconds: number): Promise<Measured> };
  }
}
