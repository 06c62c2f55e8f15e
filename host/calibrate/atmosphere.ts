/** U.S. Standard Atmosphere 1976 up to 11 km: what pressure a height stands for, to carry an ambient pressure over a height. */

/** Sea-level pressure and temperature, lapse rate, and g·M/(R*·L) with M = 28.9644 kg/kmol and R* = 8314.32 J/(kmol·K). */
const SEA_LEVEL_PA = 101_325;
const SEA_LEVEL_K = 288.15;
const LAPSE_K_PER_M = 0.0065;
const EXPONENT = (9.80665 * 28.9644) / (8314.32 * LAPSE_K_PER_M);
const EARTH_RADIUS_M = 6_356_766;

/** Pressure at a geopotential height, -5 to 11 km. */
export function standardPressurePa(geopotentialM: number): number {
  if (!(geopotentialM >= -5000 && geopotentialM <= 11_000)) {
    throw new RangeError(`a height of ${geopotentialM} m is outside -5 to 11 km`);
  }
  return SEA_LEVEL_PA * (1 - (LAPSE_K_PER_M * geopotentialM) / SEA_LEVEL_K) ** EXPONENT;
}

/** Geopotential height of a height above sea level as a ruler measures it. */
export function geopotentialHeightM(geometricM: number): number {
  return (EARTH_RADIUS_M * geometricM) / (EARTH_RADIUS_M + geometricM);
}

/** Ambient pressure `upM` metres above where `pressurePa` was measured: the standard atmosphere's ratio at that pressure. */
export function pressureAbovePa(pressurePa: number, upM: number): number {
  const heightM = (SEA_LEVEL_K / LAPSE_K_PER_M) * (1 - (pressurePa / SEA_LEVEL_PA) ** (1 / EXPONENT));
  return standardPressurePa(heightM + upM);
}
