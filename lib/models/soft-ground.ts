/**
 * Ground that gives way: what it bears, and how much it holds a wheel back.
 */

const PSI_PA = 6894.757293168;

/** Constant of the Corps of Engineers' cover formula, psi per per cent of CBR. From memory. */
const COVER_CONSTANT_PSI = 8.1;

/**
 * Highest tire contact pressure that ground without cover bears for thousands of passes.
 *
 * @param bearingRatio California bearing ratio as a share: 0.1 for CBR 10.
 * @returns pressure, Pa.
 * @see cover t = sqrt(P / (8.1 CBR) - A / pi), P in lb, A in in2, t in in (Corps of Engineers, about 5,000 coverages,
 *   from memory): none is needed where P/A <= 8.1 CBR / pi psi. Meant for heavy traffic, so careful for a few light
 *   landings.
 */
export function bearablePressurePa(bearingRatio: number): number {
  return (COVER_CONSTANT_PSI / Math.PI) * 100 * bearingRatio * PSI_PA;
}

/**
 * Part of the rolling resistance that comes from sinking into soil, over load.
 *
 * @param coneIndexPa cone index of the soil, Pa.
 * @param loadN wheel load, N; > 0.
 * @param sectionWidthM section width, m.
 * @param outsideDiameterM outside diameter, m.
 * @param sectionHeightM section height, m.
 * @param deflectionM deflection, m.
 * @returns resistance over load; falls with deflection.
 * @see Brixius 1987, from memory: R/W = 1/B_n + 0.04 with B_n = (CI b d / W) (1 + 5 delta/h) / (1 + 3 b/d). The 0.04
 *   is the tire's own resistance, which has a model of its own here (`rollingResistanceRatio`), so it is left out.
 */
export function soilResistanceRatio(
  coneIndexPa: number,
  loadN: number,
  sectionWidthM: number,
  outsideDiameterM: number,
  sectionHeightM: number,
  deflectionM: number,
): number {
  const wheelNumeric = (coneIndexPa * sectionWidthM * outsideDiameterM) / loadN;
  const deflected = 1 + (5 * deflectionM) / sectionHeightM;
  const wide = 1 + (3 * sectionWidthM) / outsideDiameterM;
  return wide / (wheelNumeric * deflected);
}
