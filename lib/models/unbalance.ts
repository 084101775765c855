/** Density of tread rubber, kg/m3. From memory: 1100 to 1200. */
export const TREAD_DENSITY_KG_PER_M3 = 1150;

/**
 * Unbalance left by shaving a tread off centre: rubber thicker on one side than on the other, as the cosine of the
 * angle round the tire.
 *
 * @param offCentreM distance by which the cut was off centre, m: half of the difference between the thickest and the
 *   thinnest side.
 * @param treadWidthM width of the tread, m.
 * @param landRatio share of the tread that is rubber, 0 to 1.
 * @param outsideDiameterM outside diameter, m.
 * @returns unbalance, mass times radius, kg m.
 * @see integral of density x width x (e cos a) x R cos a x R da over the circle = pi density width e R^2; our own
 *   algebra.
 */
export function shavingUnbalanceKgM(
  offCentreM: number,
  treadWidthM: number,
  landRatio: number,
  outsideDiameterM: number,
): number {
  const radiusM = 0.5 * outsideDiameterM;
  return Math.PI * TREAD_DENSITY_KG_PER_M3 * treadWidthM * landRatio * offCentreM * radiusM * radiusM;
}
