/**
 * Conventional mass: what a body of 8000 kg/m³ has that balances it in air of 1.2 kg/m³ at 20 °C (OIML
 * D 28). Weights state it, and a pad calibrated with them reads it: no buoyancy is taken out anywhere,
 * so that a car is weighed as it would be on any other scale.
 */
const CONVENTIONAL_DENSITY = 8000;
const CONVENTIONAL_AIR = 1.2;

/**
 * Least density of weights in use: cast iron 7100 less its uncertainty of 600 kg/m³ (OIML R 111-1:2004,
 * table B.7); and the thinnest air weighed in, some 1600 m up on a warm day (approximate CIPM formula,
 * R 111-1, E.3).
 */
const LIGHTEST_WEIGHT = 6500;
const THINNEST_AIR = 0.95;

/** Density of air, kg/m³: the approximate CIPM formula (OIML R 111-1:2004, E.3-1). °C, hPa, %. */
export const airDensity = (air: {
  readonly temperature: number;
  readonly pressure: number;
  readonly humidity: number;
}): number =>
  (0.34848 * air.pressure - 0.009 * air.humidity * Math.exp(0.061 * air.temperature)) /
  (273.15 + air.temperature);

/**
 * What a weight of density `density` (kg/m³) pulls in air of `air` kg/m³ over what its conventional
 * mass says, as a share of it: (ρ_air − 1.2)·(1/8000 − 1/ρ).
 */
export const buoyancyError = (density: number, air: number): number =>
  (air - CONVENTIONAL_AIR) * (1 / CONVENTIONAL_DENSITY - 1 / density);

/** The most that air can make of a weight of unknown material where cars are weighed, as a share. */
export const LARGEST_BUOYANCY = Math.abs(buoyancyError(LIGHTEST_WEIGHT, THINNEST_AIR));
