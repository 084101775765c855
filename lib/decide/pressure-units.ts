import { parseQuantity } from '../units.js';

/** One pound-force per square inch, Pa. */
export const PSI_PA: number = psiToPa(1);

/** A pressure in psi as the scenario reader would read it, Pa: "25 psi" of a file and 25 here are the same bits. */
export function psiToPa(psi: number): number {
  const read = parseQuantity(`${psi} psi`, 'pressure');
  if (!read.ok) throw new RangeError(`no pressure: ${psi} psi`);
  return read.si;
}

/** A pressure in psi to at most six digits. */
export function paToPsi(pressurePa: number): number {
  return Number((pressurePa / PSI_PA).toPrecision(6));
}
