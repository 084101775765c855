/**
 * Load that a tire may carry at a pressure below its rated one: in proportion to the pressure, and never more than its
 * rated load. Common practice of load and inflation tables, no source; it keeps deflection at or below that at the
 * rating.
 *
 * @param ratedLoadKg rated static load, kg.
 * @param gaugePa inflation pressure, Pa gauge; >= 0.
 * @param ratedPa rated inflation pressure, Pa gauge; > 0.
 * @returns mass, kg.
 */
export function loadAtPressureKg(ratedLoadKg: number, gaugePa: number, ratedPa: number): number {
  return ratedLoadKg * Math.min(1, gaugePa / ratedPa);
}
