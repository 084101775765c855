/**
 * Cuts and punctures by sharp stones, and how high rock edges stand.
 *
 * A tire sweeps stones; each bites to a random depth; a bite through everything is a puncture, one that reaches the
 * carcass is a cut past limits. Broken rock has no typical size: the number of fragments larger than a size falls as a
 * power of it, with an exponent of two to three (Turcotte, "Fractals and fragmentation", J. Geophys. Res. 91, 1986,
 * from memory). Bite depths and edge heights are taken to follow such a law with exponent 3 (assumption); it reduces
 * to a cube, and, unlike an exponential, it does not promise that a thick tire is never pierced. No published rate of
 * cuts or punctures per landing on gravel was found: all numbers are assumptions of the scenario.
 */

/** Pressure at which bite depths are stated, Pa (50 psi). A convention, not a finding. */
export const BITE_REFERENCE_PRESSURE_PA = 344_737.8646584;
const PER_REFERENCE_PRESSURE = 1 / 344_737.8646584;

/** Scale of the power law over its median: 1 / (2^(1/3) - 1). */
export const SCALE_OVER_MEDIAN = 3.847322101863073;

/**
 * Sharp stones met on a stretch.
 *
 * @param densityPerM2 sharp stones per area, 1/m2.
 * @param sweptWidthM footprint width, m.
 * @param distanceM distance rolled, m.
 * @returns expected number (the mean of a Poisson count).
 */
export function stonesMet(densityPerM2: number, sweptWidthM: number, distanceM: number): number {
  return densityPerM2 * sweptWidthM * distanceM;
}

/**
 * Scale of the bite depth at a contact pressure. A soft tire wraps round a stone, a hard one is pressed on it: the
 * depth is taken to grow with the square root of contact pressure (assumption).
 *
 * @param referenceScaleM scale at {@link BITE_REFERENCE_PRESSURE_PA}, m.
 * @param contactPa mean pressure in the footprint, Pa.
 * @returns scale, m; > 0.
 */
export function biteScaleM(referenceScaleM: number, contactPa: number): number {
  return referenceScaleM * Math.sqrt(contactPa * PER_REFERENCE_PRESSURE);
}

/**
 * Chance that one bite, or one rock edge, is larger than a size: a Pareto law of the second kind with exponent 3.
 *
 * @param sizeM depth of rubber and cord, or height, m; >= 0.
 * @param scaleM scale of the law, m; > 0. The median is scale / {@link SCALE_OVER_MEDIAN}, the mean scale / 2.
 * @returns chance, 0 to 1.
 * @see P(X > x) = (1 + x/s)^-3.
 */
export function chanceLarger(sizeM: number, scaleM: number): number {
  const share = scaleM / (scaleM + sizeM);
  return share * share * share;
}

/**
 * The same chance for a tread of three bands, weighted by their shares of the area: centre, inner and outer shoulder.
 * One division serves all three.
 *
 * @param centreShare share of the centre band; the shoulders have half of the rest each.
 * @param centreM thickness of the centre band, m; >= 0.
 * @param innerM thickness of the inner shoulder, m; >= 0.
 * @param outerM thickness of the outer shoulder, m; >= 0.
 * @param scaleM scale of the law, m; > 0.
 * @returns chance, 0 to 1.
 */
export function chanceLargerOnBands(
  centreShare: number,
  centreM: number,
  innerM: number,
  outerM: number,
  scaleM: number,
): number {
  const centre = scaleM + centreM;
  const inner = scaleM + innerM;
  const outer = scaleM + outerM;
  const shoulders = inner * outer;
  const scaled = scaleM / (centre * shoulders);
  const centreRatio = shoulders * scaled;
  const innerRatio = centre * outer * scaled;
  const outerRatio = centre * inner * scaled;
  return (
    centreShare * centreRatio * centreRatio * centreRatio +
    0.5 * (1 - centreShare) * (innerRatio * innerRatio * innerRatio + outerRatio * outerRatio * outerRatio)
  );
}
