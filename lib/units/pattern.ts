import { DIMENSIONS, DIMENSION_NAMES, type Dimension, type Unit } from './dimensions.js';

// Blank, tab, no-break space and narrow no-break space: what people type or paste between number and unit.
const BLANK = '[ \\t\\u00a0\\u202f]';
const NUMBER = `[+-]?(?:\\d+${BLANK}+\\d+/\\d+|\\d+/\\d+|(?:\\d+\\.?\\d*|\\.\\d+)(?:[eE][+-]?\\d+)?)`;

/** Longest text read as a quantity; longer ones are refused before any matching. */
export const MAX_QUANTITY_LENGTH = 100;

function spellingPattern(spelling: string): string {
  return spelling.replace(/[ /*-]/g, (character, at: number) => {
    if (character === ' ') return `${BLANK}+`;
    if (character === '-') return '[-]';
    const mark = character === '*' ? '\\*' : '/';
    return at === 0 ? `${mark}${BLANK}*` : `${BLANK}*${mark}${BLANK}*`;
  });
}

function spellings(unit: Unit): readonly string[] {
  return [unit.name, ...unit.aliases];
}

function unitAlternatives(dimension: Dimension): string {
  return DIMENSIONS[dimension].units.flatMap(spellings).map(spellingPattern).join('|');
}

/**
 * Regular expression source (ECMA-262) that matches exactly the texts `parseQuantity` can read for a dimension, apart
 * from numbers it refuses (division by zero, out of the range of a double, below absolute zero).
 */
export function quantityPattern(dimension: Dimension): string {
  return `^${BLANK}*${NUMBER}${BLANK}*(?:${unitAlternatives(dimension)})${BLANK}*$`;
}

interface Matcher {
  readonly pattern: RegExp;
  readonly units: ReadonlyMap<string, Unit>;
}

function matcher(dimension: Dimension): Matcher {
  const units = new Map<string, Unit>();
  for (const unit of DIMENSIONS[dimension].units) for (const name of spellings(unit)) units.set(name, unit);
  const source = `^${BLANK}*(${NUMBER})${BLANK}*(${unitAlternatives(dimension)})${BLANK}*$`;
  return { pattern: new RegExp(source), units };
}

const MATCHERS = Object.fromEntries(DIMENSION_NAMES.map((name) => [name, matcher(name)])) as Readonly<
  Record<Dimension, Matcher>
>;

/** A quantity text taken apart. */
export interface QuantityParts {
  /** The number as written. */
  readonly number: string;
  readonly unit: Unit;
}

/** Takes a text apart for a dimension; null when it is not written as such a quantity. */
export function splitQuantity(text: string, dimension: Dimension): QuantityParts | null {
  const { pattern, units } = MATCHERS[dimension];
  const match = pattern.exec(text);
  if (match === null) return null;
  const spelling = match[2]!.replace(/[ \t\u00a0\u202f]+/g, ' ').replace(/ ?([/*]) ?/g, '$1');
  return { number: match[1]!, unit: units.get(spelling)! };
}

const LEADING_NUMBER = new RegExp(`^${BLANK}*(${NUMBER})${BLANK}*`);

/** The number at the start of a text and what follows it; null when the text does not start with a number. */
export function splitNumber(text: string): { readonly number: string; readonly rest: string } | null {
  const match = LEADING_NUMBER.exec(text);
  if (match === null) return null;
  return { number: match[1]!, rest: text.slice(match[0].length).trim() };
}

/** Value of a number as written, or why it has none. */
export type NumberReading =
  { readonly ok: true; readonly value: number } | { readonly ok: false; readonly reason: string };

const FRACTION = new RegExp(`^([+-]?)(?:(\\d+)${BLANK}+)?(\\d+)/(\\d+)$`);

/** Reads the number of a quantity: a decimal, a fraction ("8/32") or a mixed fraction ("1 1/2"). */
export function readNumber(text: string): NumberReading {
  const fraction = FRACTION.exec(text);
  let value: number;
  if (fraction === null) {
    value = Number(text);
    const mantissa = text.replace(/[eE].*$/, '');
    if (value === 0 && /[1-9]/.test(mantissa)) return { ok: false, reason: 'number too small' };
  } else {
    const denominator = Number(fraction[4]);
    if (denominator === 0) return { ok: false, reason: 'fraction with a zero below the line' };
    const magnitude = (Number(fraction[2] ?? '0') * denominator + Number(fraction[3])) / denominator;
    value = fraction[1] === '-' ? -magnitude : magnitude;
  }
  return Number.isFinite(value) ? { ok: true, value } : { ok: false, reason: 'number too large' };
}
