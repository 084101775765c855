import { formatQuantity } from '../units.js';

export { countedText as counted } from '../present/amounts.js';

const INCH_M = 0.0254;
const BAR_PA = 1e5;

/**
 * A pressure in the units that gauges have: "24.1 psi (1.66 bar)".
 *
 * @param pressurePa gauge pressure, or a difference of two, Pa.
 * @param decimals of the psi; bars have one more.
 */
export function pressureText(pressurePa: number, decimals = 1): string {
  const psiShown = rounded(psi(pressurePa), decimals).toFixed(decimals);
  return `${psiShown} psi (${rounded(pressurePa / BAR_PA, decimals + 1).toFixed(decimals + 1)} bar)`;
}

/**
 * A change of pressure with its sign: "+1.20 psi (+0.083 bar)".
 *
 * @param changePa difference of two gauge pressures, Pa.
 */
export function pressureChangeText(changePa: number): string {
  const text = pressureText(changePa, 2);
  return psi(changePa) > 0 ? text.replace(/(^|\()/gu, '$1+') : text;
}

/** A pressure with three figures: "24.1 psi". */
export function psiText(pressurePa: number): string {
  return formatQuantity(pressurePa, 'pressure', 'psi', 3);
}

/** Pascals as psi, rounded to what a drawing shows. */
export function psi(pressurePa: number): number {
  return rounded(Number.parseFloat(formatQuantity(pressurePa, 'pressure', 'psi', 15)), 3);
}

/**
 * A depth of rubber in the units that tread gauges have: "2.1 mm (2.6/32 in)".
 *
 * @param depthM depth, m; negative where cords are worn into.
 */
export function depthText(depthM: number): string {
  return `${(1000 * depthM).toFixed(1)} mm (${((32 * depthM) / INCH_M).toFixed(1)}/32 in)`;
}

/** Metres as millimetres, rounded to what a drawing shows. */
export function millimetres(depthM: number): number {
  return rounded(1000 * depthM, 3);
}

/**
 * A number with so many decimals at most: what a drawing can show, and what reads well.
 *
 * @param value any finite number.
 * @param decimals 0 to 6.
 */
export function rounded(value: number, decimals: number): number {
  // Adding 0 turns -0 into 0.
  return Number(value.toFixed(decimals)) + 0;
}
