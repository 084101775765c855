import { chanceLarger } from './stones.js';

/** Reciprocal of the slope of the upper branch: a product is faster than a quotient. */
const PER_HIGH_SLOPE = 1 / 2.4;

/**
 * Extra deflection from the sink rate: the part of the sink energy that the tire takes, stored in a spring as
 * stiff as the upper branch of the load-deflection law.
 *
 * @param sinkMps sink rate at touchdown, m/s.
 * @param massOnWheelKg mass carried by the wheel, kg.
 * @param tireEnergyShare share of the sink energy taken by the tire (the strut takes the rest), 0 to 1.
 * @param stiffnessN vertical stiffness, N per unit of deflection over width.
 * @param sectionWidthM section width, m.
 * @returns deflection, m.
 * @see k x^2 / 2 = share m v^2 / 2, with k = 2.4 B / w (TR R-64, from memory).
 */
export function impactDeflectionM(
  sinkMps: number,
  massOnWheelKg: number,
  tireEnergyShare: number,
  stiffnessN: number,
  sectionWidthM: number,
): number {
  return sinkMps * Math.sqrt((PER_HIGH_SLOPE * tireEnergyShare * massOnWheelKg * sectionWidthM) / stiffnessN);
}

/**
 * Chance that one rock edge pinches the tire against its rim: the edge must stand higher than the height left.
 *
 * @param heightLeftM free section height less deflection, m; may be negative (bottomed).
 * @param edgeScaleM scale of the edge heights, m.
 * @returns chance, 0 to 1.
 */
export function pinchChance(heightLeftM: number, edgeScaleM: number): number {
  return heightLeftM > 0 ? chanceLarger(heightLeftM, edgeScaleM) : 1;
}
