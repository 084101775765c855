import { DIMENSIONS, DIMENSION_NAMES, expectedPhrase, toSi, type Dimension } from './dimensions.js';
import { nearestName } from './nearest.js';
import { MAX_QUANTITY_LENGTH, readNumber, splitNumber, splitQuantity } from './pattern.js';

/** Result of reading a quantity: its value in SI units, or a reason in plain words. */
export type ParsedQuantity =
  { readonly ok: true; readonly si: number } | { readonly ok: false; readonly reason: string };

function refuse(reason: string): ParsedQuantity {
  return { ok: false, reason };
}

/** Quotes part of a text for a message; JSON quoting also shows control characters. */
function quoted(text: string): string {
  return JSON.stringify(text.length > 20 ? `${text.slice(0, 20)}…` : text);
}

function explainNumber(text: string, expected: string): string {
  if (text === '') return `empty; ${expected}`;
  if (/^[+-]?0[xobXOB]/.test(text)) return `only decimal numbers are read; ${expected}`;
  if (/^[+-]?(?:nan|inf)/i.test(text)) return `not a finite number; ${expected}`;
  if (/^[−–]/.test(text)) return 'write a minus sign as "-"';
  return `does not start with a number; ${expected}`;
}

function explainUnit(rest: string, dimension: Dimension, expected: string): string {
  if (/^-\d+\/\d+/.test(rest)) return 'write a mixed fraction with a blank, such as "1 1/2 in"';
  const spellings = DIMENSIONS[dimension].units.flatMap((unit) => [unit.name, ...unit.aliases]);
  const nearest = nearestName(
    rest,
    spellings.filter((spelling) => spelling !== ''),
  );
  if (nearest !== null) return `unknown unit ${quoted(rest)}, did you mean "${nearest}"? ${expected}`;
  return `unknown unit ${quoted(rest)}; ${expected}`;
}

function explain(text: string, dimension: Dimension): string {
  const expected = `expected ${expectedPhrase(dimension)}`;
  const trimmed = text.trim();
  // Before anything else: "0x1F psi" starts with the number 0, "2,5 bar" with the number 2.
  if (/^[+-]?\d*,\d/.test(trimmed))
    return 'comma in a number; use a point for decimals ("2.5") and no thousands mark';
  const parts = /^[+-]?0[xobXOB]/.test(trimmed) ? null : splitNumber(trimmed);
  if (parts === null) return explainNumber(trimmed, expected);
  if (parts.rest === '') return `missing unit; ${expected}`;
  if (splitQuantity(trimmed, dimension) !== null) return `only blanks may stand around it; ${expected}`;
  const other = DIMENSION_NAMES.find((name) => splitQuantity(trimmed, name) !== null);
  if (other !== undefined) return `is ${DIMENSIONS[other].noun}; ${expected}`;
  return explainUnit(parts.rest, dimension, expected);
}

/**
 * Reads a quantity with its unit and converts it to SI units (temperatures to kelvin).
 *
 * Strict: one number (decimal, exponent, fraction such as "8/32", mixed fraction such as "1 1/2"), blanks or none,
 * then one unit of the dimension in its usual case. Shares, counts and money may be bare numbers. A month is 365.25/12
 * days, a year 365.25 days. Never throws.
 *
 * Conversion factors are exact by definition: NIST SP 811, Appendix B (from memory).
 *
 * @param text what was written, at most 100 characters.
 * @param dimension what it has to be.
 * @returns the value in SI units (Pa, m, kg, N, m/s, K, s, J, m3/J, kg m2, N m, 1/m2, 1/m, 1/s, rad, m2; shares,
 *   counts and money as they are), or the reason why it cannot be read.
 * @example
 * import { parseQuantity } from 'gravelbar';
 * parseQuantity('8/32 in', 'length'); // => { ok: true, si: 0.00635 }
 * parseQuantity('25', 'pressure'); // => { ok: false, reason: 'missing unit; expected a pressure such as "25 psi" or "1.7 bar"' }
 */
export function parseQuantity(text: string, dimension: Dimension): ParsedQuantity {
  const expected = `expected ${expectedPhrase(dimension)}`;
  if (text.length > MAX_QUANTITY_LENGTH) {
    return refuse(`longer than ${MAX_QUANTITY_LENGTH} characters; ${expected}`);
  }
  const parts = splitQuantity(text, dimension);
  if (parts === null) return refuse(explain(text, dimension));
  const number = readNumber(parts.number);
  if (!number.ok) return refuse(`${number.reason}; ${expected}`);
  const si = toSi(number.value, parts.unit);
  if (!Number.isFinite(si)) return refuse(`number too large; ${expected}`);
  if (dimension === 'temperature' && si < 0) return refuse(`below absolute zero; ${expected}`);
  return { ok: true, si };
}
