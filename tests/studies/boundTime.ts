import { cramerRao } from './cramerRao.ts';
import type { ModalCar } from './modalCar.ts';

/** ±0.2 kg at standard gravity, N: what a settled reading must be good to, with 95 %. */
export const WANTED = 0.2 * 9.80665;

/** Bound of the worst of the four settled loads when so many seconds have been heard, N. */
export const boundAfter = (
  car: ModalCar,
  heard: { readonly seconds: number; readonly rate: number; readonly noise: number },
): number => {
  const { seconds, rate, noise } = heard;
  return Math.max(
    ...cramerRao({
      noise,
      modes: car.modes.map(({ hertz, damping }) => ({ omega: 2 * Math.PI * hertz, damping })),
      pads: car.settled.map((_, pad) => ({
        // Pads convert in no step with each other: spread evenly over a conversion.
        times: Array.from(
          { length: Math.max(0, Math.floor(seconds * rate - (pad + 0.5) / 4) + 1) },
          (__, k) => (k + (pad + 0.5) / 4) / rate,
        ),
        amplitudes: car.modes.map(
          ({ displaced, moving }) => [displaced[pad] ?? 0, moving[pad] ?? 0] as const,
        ),
      })),
    }),
  );
};

/** Seconds after which the bound's 95 % interval of every load is within ±0.2 kg, to 2 ms. */
export const boundTime = (
  car: ModalCar,
  options: { readonly rate: number; readonly noise: number },
): number => {
  const meets = (seconds: number): boolean =>
    1.96 * boundAfter(car, { ...options, seconds }) <= WANTED;
  let low = 0.1;
  let high = 8;
  while (high - low > 0.002) {
    const middle = (low + high) / 2;
    if (meets(middle)) high = middle;
    else low = middle;
  }
  return high;
};
