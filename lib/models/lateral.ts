/** Lateral constant of low-pressure (Type III) tires. TR R-64, from memory, low confidence: use ratios only. */
const LATERAL_CONSTANT = 3;
/** Share of the rated pressure that the carcass adds. Same source. */
const CARCASS_SHARE = 0.24;
const DEFLECTION_TERM = 0.7;

/**
 * Lateral stiffness of a standing tire: side force over side deflection.
 *
 * @param gaugePa inflation pressure, Pa gauge.
 * @param ratedPa rated inflation pressure, Pa gauge.
 * @param sectionWidthM section width, m.
 * @param deflectionM vertical deflection, m.
 * @returns stiffness, N/m; not below 0.
 * @see NASA TR R-64: K = tau w (p + 0.24 p_r) (1 - 0.7 delta/w), from memory.
 */
export function lateralStiffnessNpm(
  gaugePa: number,
  ratedPa: number,
  sectionWidthM: number,
  deflectionM: number,
): number {
  const carried = gaugePa + CARCASS_SHARE * ratedPa;
  const upright = 1 - (DEFLECTION_TERM * deflectionM) / sectionWidthM;
  return LATERAL_CONSTANT * sectionWidthM * carried * Math.max(0, upright);
}
