/**
 * Second-order Butterworth low-pass, stepped exactly over each interval: the input is taken as a
 * straight line between samples and y'' + √2·ω·y' + ω²·y = ω²·u is solved in closed form. That is
 * the usual biquad where the rate is even, and stays right where it is not. It begins at rest on the
 * first sample, so a constant passes untouched; the delay at low frequency is √2/ω.
 *
 * Source: S. Butterworth, Experimental Wireless 7 (1930) 536; exact step of a linear system under a
 * first-order hold, any text on sampled systems.
 */
export interface LowPass {
  /** Takes the next value at time `t` (s) and returns the filtered one. `t` must rise. */
  next(t: number, value: number): number;
  /** Begins again: the next value passes as it is. */
  restart(): void;
}

/** Intervals that differ by less, s, share their coefficients: rounding of times, 10⁻⁸ of the output. */
const SAME_STEP = 1e-9;

/** Places in the state: time, input, output and its rate; the step and what it does. */
const [TIME, INPUT, OUTPUT, RATE, STEP, DECAY_COS, DECAY_SIN] = [0, 1, 2, 3, 4, 5, 6] as const;

/** Makes a low-pass with its −3 dB point at `cutoff` hertz. Throws RangeError unless above zero. */
export const createLowPass = (cutoff: number): LowPass => {
  if (!(cutoff > 0) || cutoff === Infinity) throw new RangeError(`not a cutoff: ${cutoff} Hz`);
  const omega = 2 * Math.PI * cutoff;
  /** Real and imaginary part of the poles. */
  const a = omega / Math.SQRT2;
  /** How far the output trails a ramp, s. */
  const lag = Math.SQRT2 / omega;

  let began = false;
  // Typed, so that the live path boxes no numbers.
  const state = new Float64Array(7);

  return {
    next: (t, value) => {
      const dt = t - (state[TIME] as number);
      let output = state[OUTPUT] as number;
      if (!began) {
        began = true;
        output = value;
        state[RATE] = 0;
      } else if (dt > 0) {
        if (Math.abs(dt - (state[STEP] as number)) > SAME_STEP) {
          state[STEP] = dt;
          const decay = Math.exp(-a * dt);
          state[DECAY_COS] = decay * Math.cos(a * dt);
          state[DECAY_SIN] = decay * Math.sin(a * dt);
        }
        const input = state[INPUT] as number;
        const decayCos = state[DECAY_COS] as number;
        const decaySin = state[DECAY_SIN] as number;
        const slope = (value - input) / dt;
        const off = output - input + lag * slope;
        const offRate = (state[RATE] as number) - slope;
        const turn = offRate / a + off;
        output = value - lag * slope + off * decayCos + turn * decaySin;
        state[RATE] = slope + offRate * decayCos - a * (off + turn) * decaySin;
      }
      state[TIME] = t;
      state[INPUT] = value;
      state[OUTPUT] = output;
      return output;
    },
    restart: () => {
      began = false;
    },
  };
};
