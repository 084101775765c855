/**
 * How wear is shared over the tread: a centre band and two shoulders.
 */

/**
 * Weight of the shoulders relative to the centre, per area: 1 where wear is even.
 *
 * Less deflection than the even-wear deflection (over-inflation, or the light load of touchdown) puts the work on
 * the crown, more (under-inflation) on the shoulders; the direction is a fact of the trade, the straight line and
 * its gain are assumptions.
 *
 * @param deflectionShare deflection over section height.
 * @param evenDeflectionShare deflection over section height at which this construction wears evenly.
 * @param gain how fast the weight rises: at twice the even deflection the shoulders get 1 + gain.
 * @returns weight, >= 0.
 */
export function shoulderWeight(deflectionShare: number, evenDeflectionShare: number, gain: number): number {
  const weight = 1 + gain * (deflectionShare / evenDeflectionShare - 1);
  return weight > 0 ? weight : 0;
}

/**
 * Share of the slip work that falls on the centre band.
 *
 * @param centreAreaShare centre band's share of the tread area, in (0, 1).
 * @param weight from {@link shoulderWeight}.
 * @returns share; the two shoulders get the rest.
 */
export function centreWorkShare(centreAreaShare: number, weight: number): number {
  return centreAreaShare / (centreAreaShare + (1 - centreAreaShare) * weight);
}

/**
 * Depth worn off a band.
 *
 * @param wornVolumeM3 rubber worn off the band, m3 (abradability times slip work).
 * @param bandRubberAreaM2 rubber area of the band around the whole tire, m2 (land only, grooves excluded).
 * @returns depth, m.
 * @see dV = A dE (energy form of Archard's law), dh = dV / area.
 */
export function wornDepthM(wornVolumeM3: number, bandRubberAreaM2: number): number {
  return wornVolumeM3 / bandRubberAreaM2;
}

/**
 * Rubber area of the whole tread.
 *
 * @param outsideDiameterM outside diameter, m.
 * @param treadWidthM width of the tread, m.
 * @param landRatio share of the tread that is rubber, not groove, 0 to 1.
 * @returns area, m2.
 */
export function treadRubberAreaM2(outsideDiameterM: number, treadWidthM: number, landRatio: number): number {
  return Math.PI * outsideDiameterM * treadWidthM * landRatio;
}
