import { nearestName, unitNames } from '../units.js';
import type { ColumnSpec } from './table-columns.js';

/** Units of tread gauges beside those of all lengths; a column of depths has them. */
const GAUGE_UNITS: readonly string[] = ['1/32 in', '1/64 in'];
/** What people write for a unit, beyond slips of the pen. */
const SPOKEN: readonly (readonly [pattern: RegExp, unit: string])[] = [
  [/(?:^|\D)32(?:\D|$)|thirty[- ]?seconds?/i, '1/32 in'],
  [/(?:^|\D)64(?:\D|$)|sixty[- ]?fourths?/i, '1/64 in'],
  [/^h(?:ou)?rs?\.?$/i, 'h'],
  [/^(?:degrees?|deg\.?|°)?\s*f(?:ahrenheit)?$/i, 'degF'],
  [/^(?:degrees?|deg\.?|°)?\s*c(?:elsius|entigrade)?$/i, 'degC'],
  [/^(?:inch(?:es)?|ins?\.?|"|″)$/i, 'in'],
  [/^(?:feet|foot|'|′)$/i, 'ft'],
  [/^millimet(?:re|er)s?$/i, 'mm'],
  [/^pounds?(?: per square inch)?$/i, 'psi'],
];

/**
 * Names of the units that a column of numbers may have, gauge units last.
 *
 * @param spec a column of numbers.
 * @returns names; none for numbers that need no unit.
 */
export function columnUnits(spec: ColumnSpec): string[] {
  const names = unitNames(spec.dimension!).filter((unit) => unit !== '');
  return spec.dimension === 'length' && spec.max!.endsWith(' mm') ? [...names, ...GAUGE_UNITS] : names;
}

/**
 * The unit that was likely meant by a text that is none of a column.
 *
 * @param text as written.
 * @param spec a column of numbers.
 * @returns a unit of the column, or null.
 */
export function likelyUnit(text: string, spec: ColumnSpec): string | null {
  const units = columnUnits(spec);
  const spoken = SPOKEN.find(([pattern, unit]) => units.includes(unit) && pattern.test(text.trim()));
  return spoken?.[1] ?? nearestName(text, units);
}

/**
 * A fraction with a decimal point, which no quantity may have, as a proper one: "0.5/32" is "1/64".
 *
 * @param text begins with the fraction; what follows it stays.
 * @returns the text with a proper fraction, or null where there is no such fraction.
 */
export function properFraction(text: string): string | null {
  const parts = /^(\d{0,3})\.(\d{1,3})\s*\/\s*(\d{1,4})(?!\d|\.)/.exec(text);
  if (parts === null) return null;
  const [whole, whole1 = '', decimals = '', below = ''] = parts;
  const over = Number(whole1 + decimals);
  const under = Number(below) * 10 ** decimals.length;
  const common = divisor(over, under);
  return over === 0 || under === 0 ? null : `${over / common}/${under / common}${text.slice(whole.length)}`;
}

function divisor(one: number, other: number): number {
  return other === 0 ? one : divisor(other, one % other);
}
