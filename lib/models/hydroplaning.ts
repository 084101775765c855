/** One knot, m/s (exact: 1852 m per hour). */
const KNOT_MPS = 1852 / 3600;
/** One pound-force per square inch, Pa. */
const PSI_PA = 6894.757293168;

/** Coefficient for a rotating wheel, kt per sqrt(psi). Source: NASA TN D-2056 (Horne and Dreher, 1963). */
export const SPIN_DOWN_COEFFICIENT = 9;

/** Coefficient for a wheel not yet turning at touchdown, kt per sqrt(psi). Source: NASA TM-85652. */
export const SPIN_UP_COEFFICIENT = 7.7;

/**
 * Lowest speed at which a tire can ride up on a flooded runway (water deeper than the grooves).
 *
 * @param gaugePa inflation pressure, Pa gauge.
 * @param coefficient {@link SPIN_DOWN_COEFFICIENT} for a rolling wheel, {@link SPIN_UP_COEFFICIENT} at touchdown.
 * @returns speed, m/s.
 * @see V = 9 sqrt(p) kt (rotating) and 7.7 sqrt(p) kt (non-rotating), p in psi.
 * @example
 * import { hydroplaningSpeedMps } from 'gravelbar';
 * (hydroplaningSpeedMps(50 * 6894.757293168) / 0.514444).toFixed(1); // => '63.6'
 */
export function hydroplaningSpeedMps(gaugePa: number, coefficient: number = SPIN_DOWN_COEFFICIENT): number {
  return coefficient * Math.sqrt(gaugePa / PSI_PA) * KNOT_MPS;
}
