import { exp } from '../numeric/elementary.js';

/**
 * Temperature to which the amount of gas in a tire is referred, K (15 degC). A bookkeeping choice only:
 * it cancels in every gauge pressure.
 */
export const REFERENCE_TEMPERATURE_K = 288.15;
const PER_REFERENCE_TEMPERATURE = 1 / 288.15;

/**
 * Absolute pressure a tire would show at the reference temperature, after being set to a gauge pressure.
 * It stands for the amount of gas inside, so it does not change with temperature or elevation.
 *
 * @param gaugePa gauge pressure at the check, Pa.
 * @param ambientPa ambient pressure at the check, Pa.
 * @param temperatureK temperature of tire and gas at the check, K.
 * @returns absolute pressure at {@link REFERENCE_TEMPERATURE_K}, Pa.
 * @see ideal gas at constant volume, p/T = constant. Casing stretch is left out: it makes the true change of
 *   a very soft tire somewhat smaller.
 */
export function referencePressurePa(gaugePa: number, ambientPa: number, temperatureK: number): number {
  return (gaugePa + ambientPa) / (temperatureK * PER_REFERENCE_TEMPERATURE);
}

/**
 * Gauge pressure of a tire at another temperature and elevation.
 *
 * @param referencePa amount of gas as given by {@link referencePressurePa}, Pa.
 * @param ambientPa ambient pressure where the tire is now, Pa.
 * @param temperatureK temperature of the gas now, K.
 * @returns gauge pressure, Pa; never below 0 (a flat tire holds no vacuum).
 * @see p_g2 = (p_g1 + P_1) T_2/T_1 - P_2, ideal gas at constant volume.
 * @example
 * import { ambientPressurePa, gaugePressurePa, referencePressurePa } from 'gravelbar';
 * const psi = 6894.757293168;
 * const filled = referencePressurePa(9 * psi, ambientPressurePa(0), 288.15); // set at sea level, 15 degC
 * (gaugePressurePa(filled, ambientPressurePa(1524), 288.15) / psi).toFixed(2); // => '11.47'
 */
export function gaugePressurePa(referencePa: number, ambientPa: number, temperatureK: number): number {
  const gaugePa = referencePa * temperatureK * PER_REFERENCE_TEMPERATURE - ambientPa;
  return gaugePa > 0 ? gaugePa : 0;
}

/**
 * Share of the excess pressure that is still inside after a time of permeation and leakage. Both are driven by
 * the difference from ambient, so gauge pressure at constant temperature falls exponentially.
 *
 * @param lossPerDay permeation and leak rate together, 1/day; >= 0.
 * @param days time, days; >= 0.
 * @returns share in (0, 1].
 * @see dp/dt = -k (p - P): Fick's law with a thin wall. Rates: see the assumptions of the scenario.
 */
export function remainingExcessShare(lossPerDay: number, days: number): number {
  return exp(-lossPerDay * days);
}
