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

/** Makes a low-pass with its −3 dB point at `cutoff` hertz. Throws RangeError unless above zero. */
export const createLowPass = (cutoff: number): LowPass => {
  if (!(cutoff > 0) || cutoff === Infinity) throw new RangeError(`not a cutoff: ${cutoff} Hz`);
  const omega = 2 * Math.PI * cutoff;
  /** Real and imaginary part of the poles. */
  const a = omega / Math.SQRT2;
  /** How far the output trails a ramp, s. */
  const lag = Math.SQRT2 / omega;

  let began = false;
  let time = 0;
  let input = 0;
  let output = 0;
  let rate = 0;
  let step = 0;
  let decayCos = 1;
  let decaySin = 0;

  return {
    next: (t, value) => {
      const dt = t - time;
      if (!began) {
        began = true;
        output = value;
        rate = 0;
      } else if (dt > 0) {
        if (Math.abs(dt - step) > SAME_STEP) {
          step = dt;
          const decay = Math.exp(-a * dt);
          decayCos = decay * Math.cos(a * dt);
          decaySin = decay * Math.sin(a * dt);
        }
        const slope = (value - input) / dt;
        const off = output - input + lag * slope;
        const offRate = rate - slope;
        const turn = offRate / a + off;
        output = value - lag * slope + off * decayCos + turn * decaySin;
        rate = slope + offRate * decayCos - a * (off + turn) * decaySin;
      }
      time = t;
      input = value;
      return output;
    },
    restart: () => {
      began = false;
    },
  };
};
