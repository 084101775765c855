import { DEEPEST_REST_DEFLECTION_SHARE, type TireShape } from '../models/loaded-height.js';
import { CARCASS_PRESSURE_SHARE, verticalLoadN } from '../models/contact.js';
import { UsageError } from '../problems.js';
import type { CompiledSetup } from '../scenario/compile.js';
import { paToPsi, psiToPa } from './pressure-units.js';

/** Range of cold pressures that a scenario may state. */
const LEAST_PSI = 3;
const MOST_PSI = 150;
const MOST_PRESSURES = 100;
/** Pressures of a default sweep, about; steps between them that read well. */
const DEFAULT_POINTS = 15;
const STEPS_PSI = [0.1, 0.2, 0.25, 0.5, 1, 2, 2.5, 5, 10] as const;

/**
 * Pressures of a sweep, rising, the set-up's own among them.
 *
 * The default runs from where the tire sinks as deep as no tire is meant to, up to its rated pressure, at round steps.
 *
 * @param setup the set-up.
 * @param mainLoadN load on a main wheel at rest, N.
 * @param wantedPa pressures asked for, Pa gauge; default: the range of the tire.
 * @returns pressures, Pa gauge.
 * @throws UsageError for a pressure out of range, too many of them, or none.
 */
export function pressureGrid(
  setup: CompiledSetup,
  mainLoadN: number,
  wantedPa: readonly number[] | undefined,
): number[] {
  if (wantedPa !== undefined) requirePressures(wantedPa);
  const grid = new Set(wantedPa ?? defaultGrid(setup.main, mainLoadN));
  grid.add(setup.mainPa);
  return [...grid].sort((one, other) => one - other);
}

function requirePressures(wantedPa: readonly number[]): void {
  if (wantedPa.length === 0 || wantedPa.length > MOST_PRESSURES) {
    throw new UsageError(`there are ${wantedPa.length} pressures; give 1 to ${MOST_PRESSURES}`);
  }
  for (const pressurePa of wantedPa) {
    if (pressurePa >= psiToPa(LEAST_PSI) && pressurePa <= psiToPa(MOST_PSI)) continue;
    throw new UsageError(
      `a pressure is ${pressurePa} Pa (${paToPsi(pressurePa)} psi); it must lie between ${LEAST_PSI} and ${MOST_PSI} psi, stated in Pa`,
    );
  }
}

/** Pressure at which a tire at rest sinks to the deepest share of its height, Pa; it may be below 0. */
function deepestPa(tire: TireShape, loadN: number): number {
  const deflection = DEEPEST_REST_DEFLECTION_SHARE * tire.freeSectionHeightM;
  const loadPerPa = verticalLoadN(deflection, tire.stiffnessAreaM2, tire.sectionWidthM);
  return loadN / loadPerPa - CARCASS_PRESSURE_SHARE * tire.ratedPa;
}

function defaultGrid(tire: TireShape, loadN: number): number[] {
  const highPsi = Math.min(MOST_PSI, paToPsi(tire.ratedPa));
  const lowPsi = Math.max(LEAST_PSI, Math.min(paToPsi(deepestPa(tire, loadN)), highPsi / 2));
  const stepPsi = STEPS_PSI.find((step) => (highPsi - lowPsi) / step <= DEFAULT_POINTS) ?? 10;
  const grid: number[] = [];
  for (let k = Math.ceil(lowPsi / stepPsi); k * stepPsi < highPsi - 1e-9; k++) grid.push(round(k * stepPsi));
  return [...grid.map(psiToPa), tire.ratedPa];
}

/** A multiple of a step without the error of the product. */
function round(psi: number): number {
  return Number(psi.toFixed(3));
}
