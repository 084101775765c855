import { DIMENSIONS, DIMENSION_NAMES, fromSi, toSi, type Dimension, type Unit } from './dimensions.js';
import { parseQuantity } from './parse.js';
import { MAX_QUANTITY_LENGTH, splitNumber, splitQuantity } from './pattern.js';

function findUnit(dimension: Dimension, name: string): Unit {
  const { noun, units } = DIMENSIONS[dimension];
  const found = units.find((unit) => unit.name === name || unit.aliases.includes(name));
  if (found === undefined) throw new RangeError(`"${name}" is not a unit of ${noun}`);
  return found;
}

/** Shortest decimal that reads back as the same SI value; where none does, the nearest double in the unit. */
function shortestValue(si: number, unit: Unit): number {
  const value = fromSi(si, unit);
  for (let digits = 1; digits <= 17; digits++) {
    const candidate = Number(value.toPrecision(digits));
    if (toSi(candidate, unit) === si) return candidate;
  }
  return value;
}

/**
 * Writes an SI value in a unit, so that `parseQuantity` reads it back.
 *
 * Without `digits` the shortest number is written that reads back as exactly the same value: what was read from
 * "25 psi" is written as "25 psi" again. Where no number does (it takes more than a double can hold), the result
 * reads back within 1e-15 of the value.
 *
 * @param si finite value in SI units.
 * @param dimension what it is.
 * @param unitName a unit of the dimension; empty for a bare share, count or sum of money.
 * @param digits significant digits, 1 to 17; trailing zeros are dropped.
 * @returns number, a blank and the unit.
 * @throws RangeError when the value is not finite or the unit is not one of the dimension.
 * @example
 * import { formatQuantity } from 'gravelbar';
 * formatQuantity(172368.93232920903, 'pressure', 'psi'); // => '25 psi'
 * formatQuantity(172368.93232920903, 'pressure', 'bar', 3); // => '1.72 bar'
 */
export function formatQuantity(si: number, dimension: Dimension, unitName: string, digits?: number): string {
  const unit = findUnit(dimension, unitName);
  if (!Number.isFinite(si)) throw new RangeError(`cannot write ${si} as ${DIMENSIONS[dimension].noun}`);
  const value = digits === undefined ? shortestValue(si, unit) : Number(fromSi(si, unit).toPrecision(digits));
  return unit.name === '' ? String(value) : `${String(value)} ${unit.name}`;
}

/** The number part of a text, whatever its unit. */
function numberPart(text: string, dimension: Dimension): string | null {
  for (const name of [dimension, ...DIMENSION_NAMES]) {
    const parts = splitQuantity(text, name);
    if (parts !== null) return parts.number;
  }
  return splitNumber(text)?.number ?? null;
}

/**
 * For a slip of the unit: the number as written with another unit of the dimension that brings it into a plausible
 * range. Commonest units are tried first.
 *
 * @param text what was written, with a wrong unit, an unknown one or none.
 * @param dimension what it has to be.
 * @param minSi lower end of the plausible range, SI units.
 * @param maxSi upper end of the plausible range, SI units.
 * @returns a quantity text, or null when no unit fits.
 */
export function suggestUnit(text: string, dimension: Dimension, minSi: number, maxSi: number): string | null {
  if (text.length > MAX_QUANTITY_LENGTH) return null;
  // A decimal comma is the whole fault: the rest stands.
  const pointed = text.replace(/^(\s*[+-]?\d+),(?=\d)/, '$1.');
  if (pointed !== text) return parseQuantity(pointed, dimension).ok ? pointed.trim() : null;
  // Nothing tells a rate per day from one per year.
  if (dimension === 'rate') return null;
  const number = numberPart(text, dimension);
  if (number === null) return null;
  for (const unit of DIMENSIONS[dimension].units) {
    const candidate = unit.name === '' ? number : `${number} ${unit.name}`;
    const read = parseQuantity(candidate, dimension);
    if (read.ok && read.si >= minSi && read.si <= maxSi) return candidate;
  }
  return null;
}
