import { deflectionM, loadedRadiusM, verticalStiffnessN } from './contact.js';

/** Measures of a tire that decide how far it sinks, SI units. */
export interface TireShape {
  readonly outsideDiameterM: number;
  readonly sectionWidthM: number;
  /** Width times mean size, from `stiffnessAreaM2`. */
  readonly stiffnessAreaM2: number;
  /** Rated inflation pressure, Pa gauge. */
  readonly ratedPa: number;
  /** Height between rim flange and tread, from `freeSectionHeightM`. */
  readonly freeSectionHeightM: number;
}

/**
 * Deflection at rest, as a share of the height above the rim flange, that no tire is meant for. Assumption: design
 * deflections are a third of the section height (from memory), and this is well beyond.
 */
export const DEEPEST_REST_DEFLECTION_SHARE = 0.45;

/**
 * Deflection of a tire under a load, until it stands on its rim.
 *
 * @param loadN vertical load, N; >= 0.
 * @param gaugePa inflation pressure, Pa gauge; >= 0.
 * @param tire its measures.
 * @returns deflection, m; at most the free section height.
 */
export function tireDeflectionM(loadN: number, gaugePa: number, tire: TireShape): number {
  const stiffnessN = verticalStiffnessN(gaugePa, tire.ratedPa, tire.stiffnessAreaM2);
  return Math.min(deflectionM(loadN, stiffnessN, tire.sectionWidthM), tire.freeSectionHeightM);
}

/**
 * Height of the axle above the ground.
 *
 * @param loadN vertical load, N; >= 0.
 * @param gaugePa inflation pressure, Pa gauge; >= 0.
 * @param tire its measures.
 * @returns height, m.
 * @example
 * import { freeSectionHeightM, loadedHeightM, stiffnessAreaM2 } from 'gravelbar';
 * const inch = 0.0254;
 * const psi = 6894.757293168;
 * const tire = {
 *   outsideDiameterM: 26 * inch,
 *   sectionWidthM: 10 * inch,
 *   stiffnessAreaM2: stiffnessAreaM2(10 * inch, 26 * inch),
 *   ratedPa: 25 * psi,
 *   freeSectionHeightM: freeSectionHeightM(26 * inch, 6 * inch, 0.7 * inch),
 * };
 * (loadedHeightM(1200 * 4.4482216, 25 * psi, tire) / inch).toFixed(2); // => '11.55'
 */
export function loadedHeightM(loadN: number, gaugePa: number, tire: TireShape): number {
  return loadedRadiusM(tireDeflectionM(loadN, gaugePa, tire), tire.outsideDiameterM);
}

/**
 * Height of the axle above the ground on a tire with no air: the rim flange is taken to stand on the ground. The
 * folded casing under it is left out, which errs on the safe side.
 *
 * @param tire its measures.
 * @returns height, m.
 */
export function flatHeightM(tire: TireShape): number {
  return loadedRadiusM(tire.freeSectionHeightM, tire.outsideDiameterM);
}
