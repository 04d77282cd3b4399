import { metrePerSecond2, type MetrePerSecond2 } from '../units.ts';

/**
 * WGS 84 ellipsoid. NIMA TR8350.2, 3rd edition (2000), tables 3.1 to 3.4: semi-major axis, flattening,
 * ratio m = ω²a²b/GM, normal gravity at the equator, Somigliana's constant k and first eccentricity
 * squared. (k of another system must not be mixed in: much published code does.)
 */
const A = 6378137;
const F = 1 / 298.257223563;
const M = 0.00344978650684;
const GAMMA_EQUATOR = 9.7803253359;
const K = 0.00193185265241;
const E2 = 0.00669437999014;

/**
 * Normal gravity at a place, m/s²: Somigliana's closed formula on the WGS 84 ellipsoid with the
 * second-order height term γ(φ,h) = γ(φ)·[1 − 2(1 + f + m − 2f·sin²φ)·h/a + 3h²/a²] (TR8350.2,
 * equation 4-3). `latitude` in degrees, north positive; `height` in metre over sea level. True
 * gravity differs by the local anomaly, typically 1 to 6 parts in 10⁵.
 * Throws RangeError on a latitude that is none.
 */
export const normalGravity = (place: {
  readonly latitude: number;
  readonly height: number;
}): MetrePerSecond2 => {
  const { latitude, height } = place;
  if (!(Math.abs(latitude) <= 90)) throw new RangeError(`not a latitude: ${latitude}`);
  const s2 = Math.sin((latitude * Math.PI) / 180) ** 2;
  const atSeaLevel = (GAMMA_EQUATOR * (1 + K * s2)) / Math.sqrt(1 - E2 * s2);
  const h = height / A;
  return metrePerSecond2(atSeaLevel * (1 - 2 * (1 + F + M - 2 * F * s2) * h + 3 * h * h));
};
