/**
 * Static contact of a pneumatic tire: deflection, footprint, radii.
 *
 * Source of the formulas: NASA TR R-64 (Smiley and Horne, 1960), "Mechanical properties of pneumatic tires with
 * special reference to modern aircraft tires". The report's scope is confirmed; its formulas are recalled from
 * memory and checked for self-consistency and against one published load-deflection reading (see
 * tests/models/contact.test.ts). They are homogeneous, so SI units serve unchanged.
 */

/** Share of the rated pressure that the carcass carries like extra inflation. TR R-64, from memory. */
export const CARCASS_PRESSURE_SHARE = 0.08;

/** Load-deflection constant of low-pressure (Type III) tires. TR R-64, from memory. */
export const LOW_PRESSURE_CONSTANT = 0.03;

const LINEAR_TERM = 0.96;
const SQUARE_TERM = 0.216 / LOW_PRESSURE_CONSTANT;
const HIGH_SLOPE = 2.4;
/** Reciprocals: a product is faster than a quotient. */
const PER_HIGH_SLOPE = 1 / HIGH_SLOPE;
const ROOT_FACTOR = 1 / (2 * SQUARE_TERM);
const THIRD = 1 / 3;
/** Deflection over width at which the parabola gives way to the straight line. */
const BRANCH_DEFLECTION_RATIO = (10 / 3) * LOW_PRESSURE_CONSTANT;
/** Load over stiffness at the same point: 5.6 C_z. */
const BRANCH_LOAD_RATIO = 5.6 * LOW_PRESSURE_CONSTANT;
const FOOTPRINT_LENGTH_FACTOR = 1.7;
const FOOTPRINT_WIDTH_FACTOR = 1.7;
const GROSS_AREA_FACTOR = 2.3;
/** Where the width polynomial peaks, 1 - 10 x^3 + 9 x^5 = 0; beyond it the tire is as wide as it gets. */
const WIDEST_DEFLECTION_RATIO = 0.50663;

/**
 * The area w sqrt(w d) by which pressure is multiplied to give vertical stiffness.
 *
 * @param sectionWidthM section width, m.
 * @param outsideDiameterM free outside diameter, m.
 * @returns area, m2.
 */
export function stiffnessAreaM2(sectionWidthM: number, outsideDiameterM: number): number {
  return sectionWidthM * Math.sqrt(sectionWidthM * outsideDiameterM);
}

/**
 * Vertical stiffness: the load scale of the load-deflection law.
 *
 * @param gaugePa inflation pressure, Pa gauge.
 * @param ratedPa rated (maximum) inflation pressure of the tire, Pa gauge. Not the operating pressure: the
 *   carcass does not soften when air is let out.
 * @param areaM2 from {@link stiffnessAreaM2}, m2.
 * @returns stiffness, N (per unit of deflection over width).
 */
export function verticalStiffnessN(gaugePa: number, ratedPa: number, areaM2: number): number {
  return (gaugePa + CARCASS_PRESSURE_SHARE * ratedPa) * areaM2;
}

/**
 * Vertical load at a deflection.
 *
 * @param deflectionM deflection, m; >= 0.
 * @param stiffnessN from {@link verticalStiffnessN}, N.
 * @param sectionWidthM section width, m.
 * @returns load, N.
 * @see TR R-64: F = B (0.96 x + 0.216 x^2 / C) up to x = 10/3 C, then 2.4 B (x - C), with x = deflection/width.
 */
export function verticalLoadN(deflectionM: number, stiffnessN: number, sectionWidthM: number): number {
  const ratio = deflectionM / sectionWidthM;
  return ratio <= BRANCH_DEFLECTION_RATIO
    ? stiffnessN * (LINEAR_TERM * ratio + SQUARE_TERM * ratio * ratio)
    : HIGH_SLOPE * stiffnessN * (ratio - LOW_PRESSURE_CONSTANT);
}

/**
 * Deflection under a load: the exact inverse of {@link verticalLoadN}.
 *
 * @param loadN vertical load, N; >= 0.
 * @param stiffnessN from {@link verticalStiffnessN}, N; > 0.
 * @param sectionWidthM section width, m.
 * @returns deflection, m. Not limited by the rim: compare with the free section height.
 */
export function deflectionM(loadN: number, stiffnessN: number, sectionWidthM: number): number {
  const ratio = loadN / stiffnessN;
  return ratio <= BRANCH_LOAD_RATIO
    ? sectionWidthM *
        (Math.sqrt(LINEAR_TERM * LINEAR_TERM + 4 * SQUARE_TERM * ratio) - LINEAR_TERM) *
        ROOT_FACTOR
    : sectionWidthM * (ratio * PER_HIGH_SLOPE + LOW_PRESSURE_CONSTANT);
}

/**
 * Length of the footprint.
 *
 * @param deflection deflection, m.
 * @param outsideDiameterM free outside diameter, m.
 * @returns length, m.
 * @see TR R-64: 2h = 1.7 d sqrt(y - y^2), y = deflection/diameter.
 */
export function footprintLengthM(deflection: number, outsideDiameterM: number): number {
  return FOOTPRINT_LENGTH_FACTOR * Math.sqrt(deflection * (outsideDiameterM - deflection));
}

/**
 * Width of the footprint.
 *
 * @param deflection deflection, m.
 * @param sectionWidthM section width, m.
 * @returns width, m.
 * @see TR R-64: b = 1.7 w sqrt(x - 2.5 x^4 + 1.5 x^6), x = deflection/width.
 */
export function footprintWidthM(deflection: number, sectionWidthM: number): number {
  const ratio =
    deflection < WIDEST_DEFLECTION_RATIO * sectionWidthM
      ? deflection / sectionWidthM
      : WIDEST_DEFLECTION_RATIO;
  const square = ratio * ratio;
  return FOOTPRINT_WIDTH_FACTOR * sectionWidthM * Math.sqrt(ratio - square * square * (2.5 - 1.5 * square));
}

/**
 * Gross area of the footprint, grooves included.
 *
 * @param deflection deflection, m.
 * @param meanSizeM sqrt(width x diameter), m.
 * @returns area, m2.
 * @see TR R-64: A = 2.3 deflection sqrt(w d).
 */
export function grossFootprintAreaM2(deflection: number, meanSizeM: number): number {
  return GROSS_AREA_FACTOR * deflection * meanSizeM;
}

/**
 * Effective radius of a freely rolling wheel.
 *
 * @param deflection deflection, m.
 * @param outsideDiameterM free outside diameter, m.
 * @returns radius, m.
 * @see TR R-64: r_e = d/2 - deflection/3.
 */
export function rollingRadiusM(deflection: number, outsideDiameterM: number): number {
  return 0.5 * outsideDiameterM - deflection * THIRD;
}

/**
 * Height of the axle above the ground.
 *
 * @param deflection deflection, m.
 * @param outsideDiameterM free outside diameter, m.
 * @returns radius, m.
 */
export function loadedRadiusM(deflection: number, outsideDiameterM: number): number {
  return 0.5 * outsideDiameterM - deflection;
}

/**
 * Height between the rim flange and the tread: what is left before the tire bottoms on its rim.
 *
 * @param outsideDiameterM free outside diameter, m.
 * @param rimDiameterM rim (bead seat) diameter, m.
 * @param flangeHeightM height of the rim flange above the bead seat, m.
 * @returns height, m.
 */
export function freeSectionHeightM(
  outsideDiameterM: number,
  rimDiameterM: number,
  flangeHeightM: number,
): number {
  return 0.5 * (outsideDiameterM - rimDiameterM) - flangeHeightM;
}

/**
 * Section height from bead seat to tread.
 *
 * @param outsideDiameterM free outside diameter, m.
 * @param rimDiameterM rim (bead seat) diameter, m.
 * @returns height, m.
 */
export function sectionHeightM(outsideDiameterM: number, rimDiameterM: number): number {
  return 0.5 * (outsideDiameterM - rimDiameterM);
}
