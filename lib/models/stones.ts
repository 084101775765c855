import { exp } from '../numeric/elementary.js';

/**
 * Cuts and punctures by sharp stones. A tire sweeps stones; each bites to a random depth; a bite through
 * everything is a puncture, one that reaches the carcass is a cut past limits. All numbers are assumptions: no
 * published rate per landing on gravel was found.
 */

/**
 * Pressure at which bite depths are stated, Pa (50 psi). A convention, not a finding.
 */
export const BITE_REFERENCE_PRESSURE_PA = 344_737.8646584;

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
 * Mean bite depth at a contact pressure. A soft tire wraps round a stone, a hard one is pressed on it: the depth
 * is taken to grow with the square root of contact pressure (assumption).
 *
 * @param referenceDepthM mean bite depth at {@link BITE_REFERENCE_PRESSURE_PA}, m.
 * @param contactPa mean pressure in the footprint, Pa.
 * @returns mean bite depth, m; > 0.
 */
export function biteDepthM(referenceDepthM: number, contactPa: number): number {
  return referenceDepthM * Math.sqrt(contactPa / BITE_REFERENCE_PRESSURE_PA);
}

/**
 * Chance that one bite goes deeper than a thickness of rubber and cord. Bite depths are taken to be exponential
 * (assumption), so that rubber above cord and cord itself multiply.
 *
 * @param thicknessM thickness, m; >= 0.
 * @param meanBiteM from {@link biteDepthM}, m; > 0.
 * @returns chance, 0 to 1.
 */
export function chanceDeeper(thicknessM: number, meanBiteM: number): number {
  return exp(-thicknessM / meanBiteM);
}
