import { power } from '../numeric/elementary.js';

/** Standard acceleration of free fall, m/s2. Source: ISO 80000-3 (conventional value). */
export const STANDARD_GRAVITY_MPS2 = 9.80665;

/** Sea-level pressure of the standard atmosphere, Pa. Source: U.S. Standard Atmosphere, 1976. */
export const SEA_LEVEL_PRESSURE_PA = 101_325;

/** Sea-level temperature of the standard atmosphere, K. Source: U.S. Standard Atmosphere, 1976. */
export const SEA_LEVEL_TEMPERATURE_K = 288.15;

/** Temperature lapse below 11 km, K/m. Source: U.S. Standard Atmosphere, 1976. */
export const LAPSE_RATE_K_PER_M = 0.0065;

/** Exponent of the pressure law below 11 km. Source: U.S. Standard Atmosphere, 1976. */
const PRESSURE_EXPONENT = 5.255876;

/**
 * Ambient (static) pressure at an elevation in the standard atmosphere.
 *
 * @param elevationM geopotential elevation above sea level, m; -500 to 11 000.
 * @returns pressure, Pa.
 * @see U.S. Standard Atmosphere, 1976: P = 101325 (1 - h/44329)^5.255876.
 * @example
 * import { ambientPressurePa } from 'gravelbar';
 * ambientPressurePa(0); // => 101325
 * Math.round(ambientPressurePa(1524)); // => 84307
 */
export function ambientPressurePa(elevationM: number): number {
  const temperatureRatio = 1 - (LAPSE_RATE_K_PER_M / SEA_LEVEL_TEMPERATURE_K) * elevationM;
  return SEA_LEVEL_PRESSURE_PA * power(temperatureRatio, PRESSURE_EXPONENT);
}

/**
 * Air temperature at an elevation in the standard atmosphere.
 *
 * @param elevationM elevation above sea level, m; up to 11 000.
 * @returns temperature, K.
 * @see U.S. Standard Atmosphere, 1976: 6.5 K per 1000 m.
 */
export function standardTemperatureK(elevationM: number): number {
  return SEA_LEVEL_TEMPERATURE_K - LAPSE_RATE_K_PER_M * elevationM;
}
