import type { Measured } from '../measured.ts';
import { found, refused, tooUncertain, type Outcome } from './outcome.ts';
import { propagated } from './propagated.ts';

/** A tyre as it was measured: height of the wheel centre at one load and one pressure. */
export interface TyreRadius {
  /** Metre, at `load` in newton and `pressure` in pascal. */
  readonly radius: Measured;
  readonly load: number;
  readonly pressure: number;
  /** Newton per metre; null where it was not measured. */
  readonly verticalRate: Measured | null;
  /** Metre per pascal; null where it was not measured. */
  readonly perPressure: Measured | null;
}

/** Further from what was measured than this share of it the straight line is not to be trusted. */
const FAR = 0.3;
/** Loads and pressures this near are those that were measured. */
const SAME = 0.01;

/** Loaded radius at another load and pressure: a straight line from what was measured. */
export const loadedRadius = (
  tyre: TyreRadius,
  at: { readonly load: number; readonly pressure: number },
): Outcome<Measured> => {
  if (![tyre.load, tyre.pressure, at.load, at.pressure].every((each) => each > 0))
    return refused(
      'A load or a pressure is not above zero.',
      'Give both, for the tyre as measured and as it will stand.',
    );
  const load = at.load - tyre.load;
  const pressure = at.pressure - tyre.pressure;
  if (!tyre.verticalRate && Math.abs(load) > SAME * tyre.load)
    return refused(
      'The tyre was measured at another load and its vertical rate is not known.',
      'Measure its loaded radius at this load too.',
    );
  if (tyre.verticalRate && !(tyre.verticalRate.value > 0))
    return refused('The vertical rate of the tyre is not above zero.', 'Give it in the car.');
  if (!tyre.perPressure && Math.abs(pressure) > SAME * tyre.pressure)
    return refused(
      'The tyre was measured at another pressure and what pressure does is not known.',
      'Set the pressure, or measure its loaded radius at this one too.',
    );
  const given = [tyre.radius, tyre.verticalRate, tyre.perPressure].filter((each) => each !== null);
  const radius = propagated(given, (x) => {
    const rest = [...x];
    const own = rest.shift() ?? 0;
    const squash = tyre.verticalRate ? load / (rest.shift() ?? 0) : 0;
    return own - squash + (tyre.perPressure ? pressure * (rest.shift() ?? 0) : 0);
  });
  if (!radius) return tooUncertain;
  if (!(radius.value > 0))
    return refused('The tyre would have no radius.', 'Look at its rate and its pressures.');
  const far = Math.abs(load) > FAR * tyre.load || Math.abs(pressure) > FAR * tyre.pressure;
  return found(
    radius,
    far
      ? ['Load or pressure is far from where this tyre was measured: measure its radius there.']
      : [],
  );
};
