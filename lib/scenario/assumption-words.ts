import { formatQuantity, unitNames } from '../units.js';
import { assumptionField, statedUnit } from './assumption-fields.js';
import type { QuantityField } from './quantity-field.js';

/** Digits shown: what was typed in comes out again, and ranges are not good for more. */
const DIGITS = 3;

/** What follows the name of a number, by section: "sharp stones on gravel". */
const ENTRY_WORDS: Readonly<Record<string, (entry: string) => string>> = {
  surfaces: (entry) => ` on ${entry}`,
  sidewalls: (entry) => ` of a ${entry} sidewall`,
  treads: (entry) => ` of a ${entry} tread`,
  compounds: (entry) => ` of ${entry} rubber`,
  // A run has one airplane.
  airplanes: () => '',
};

/**
 * Short name of an assumption in words, from its place.
 *
 * @param path place as in a compiled scenario: "surfaces.gravel.sharpStones".
 * @returns "sharp stones on gravel"; the path itself where the schema has no such assumption, such as a number that
 *   belongs to records.
 */
export function assumptionName(path: string): string {
  const found = assumptionField(path);
  if (found === null) return path;
  const { steps } = found;
  const [section = '', entry = ''] = steps;
  const name = steps
    .at(-1)!
    .replace(/[A-Z]/g, (capital) => ` ${capital.toLowerCase()}`)
    .trim();
  return steps.length < 3 ? name : name + (ENTRY_WORDS[section]?.(entry) ?? ` of ${entry}`);
}

/**
 * A value of an assumption in the unit in which scenarios state it.
 *
 * @param path place as in a compiled scenario.
 * @param si value, SI units.
 * @returns "0.0999 mm3/J", "9.49 × 10⁻⁵ /m2"; a bare number where the schema has no such assumption.
 */
export function assumptionValueText(path: string, si: number): string {
  const found = assumptionField(path);
  return found === null
    ? shortNumber(String(Number(si.toPrecision(DIGITS))))
    : fieldValueText(found.field, si);
}

/**
 * A span of values of an assumption in the unit of scenarios, the unit said once: "0.07 to 0.14 mm3/J".
 *
 * @param path place as in a compiled scenario.
 * @param lowSi lower end, SI units.
 * @param highSi upper end, SI units.
 */
export function assumptionSpanText(path: string, lowSi: number, highSi: number): string {
  const [low, high] = [assumptionValueText(path, lowSi), assumptionValueText(path, highSi)];
  const unit = / [^ ×⁻⁰-⁹]+$/u.exec(high)?.[0] ?? '';
  return unit !== '' && low.endsWith(unit) ? `${low.slice(0, -unit.length)} to ${high}` : `${low} to ${high}`;
}

/**
 * A value of a field in the unit in which the schema speaks of it.
 *
 * @param field of the schema.
 * @param si value, SI units.
 */
export function fieldValueText(field: QuantityField, si: number): string {
  return shortNumber(formatQuantity(si, field.dimension, fieldUnit(field), DIGITS));
}

/** The unit in which the schema speaks of a field, empty for a bare number; masses in the unit of manuals. */
export function fieldUnit(field: QuantityField): string {
  return field.dimension === 'mass' ? unitNames(field.dimension)[0]! : statedUnit(field);
}

/** From this many zeros on a number is written with a power of ten. */
const SMALL = /^(-?)0\.000(\d+)/;
const SUPERSCRIPTS = '⁰¹²³⁴⁵⁶⁷⁸⁹';

/** A very small number as "4.5 × 10⁻⁷", which can be read without counting zeros. */
function shortNumber(quantity: string): string {
  const [number = '', ...unit] = quantity.split(' ');
  if (!SMALL.test(number) && !number.includes('e-')) return quantity;
  const [mantissa = '', exponent = ''] = Number(number).toExponential().split('e-');
  const raised = Array.from(exponent, (digit) => SUPERSCRIPTS[Number(digit)]).join('');
  return [`${mantissa} × 10⁻${raised}`, ...unit].join(' ');
}
