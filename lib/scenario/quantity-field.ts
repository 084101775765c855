import {
  expectedPhrase,
  formatQuantity,
  MAX_QUANTITY_LENGTH,
  parseQuantity,
  quantityPattern,
  suggestUnit,
  unitNames,
  type Dimension,
} from '../units.js';

/** Dimensions that may be written as a bare JSON number. */
export type BareDimension = 'share' | 'count' | 'money';

/** What may be written for a dimension. */
export type QuantityInput<D extends Dimension> = D extends BareDimension ? string | number : string;

/** Range and wording of a quantity in a scenario. */
export interface QuantityOptions {
  /** Lower end of the plausible range, as a quantity: "3 psi". */
  readonly min: string;
  /** Upper end of the plausible range, included. */
  readonly max: string;
  /** What it is, for the published schema. */
  readonly description: string;
  /** How to write one, for the published schema. */
  readonly example?: string;
  /** False when the lower end itself is not allowed; true unless stated. */
  readonly minInclusive?: boolean;
  /** True when only whole numbers are allowed; false unless stated. */
  readonly whole?: boolean;
}

/** A quantity of a scenario with its range in SI units. */
export interface QuantityField {
  readonly dimension: Dimension;
  readonly options: QuantityOptions;
  readonly minSi: number;
  readonly maxSi: number;
}

/** What is wrong with a value: the `allowed` and `suggestion` of a problem, and the `path` below the value. */
export interface FieldProblem {
  readonly path?: readonly PropertyKey[];
  readonly found?: string;
  readonly allowed: string;
  readonly suggestion?: string;
}

/** Value of a field in SI units, or what is wrong with it. */
export type FieldReading =
  { readonly ok: true; readonly si: number } | { readonly ok: false; readonly problem: FieldProblem };

function siOf(text: string, dimension: Dimension): number {
  const read = parseQuantity(text, dimension);
  if (!read.ok) throw new RangeError(`range of a ${dimension} field: "${text}": ${read.reason}`);
  return read.si;
}

/**
 * Checks the range of a field once, when the schema is built.
 *
 * @throws RangeError when an end of the range cannot be read or min is not below max.
 */
export function quantityField(dimension: Dimension, options: QuantityOptions): QuantityField {
  const field = {
    dimension,
    options,
    minSi: siOf(options.min, dimension),
    maxSi: siOf(options.max, dimension),
  };
  if (field.minSi >= field.maxSi)
    throw new RangeError(`range of a ${dimension} field: min must be below max`);
  return field;
}

/** The range in words: "3 psi to 120 psi". */
export function rangeText({ options }: QuantityField): string {
  return options.minInclusive === false
    ? `more than ${options.min}, at most ${options.max}`
    : `${options.min} to ${options.max}`;
}

function isInRange(field: QuantityField, si: number): boolean {
  return si <= field.maxSi && (field.options.minInclusive === false ? si > field.minSi : si >= field.minSi);
}

/** True where a bare number is a quantity. */
export function isBare(dimension: Dimension): boolean {
  return unitNames(dimension).includes('');
}

function refuse(allowed: string, guess: string | null): FieldReading {
  const suggestion = guess === null ? {} : { suggestion: `did you mean "${guess}"?` };
  return { ok: false, problem: { allowed, ...suggestion } };
}

/** Reads the value of a field: text with a unit, or a number where a bare number is a quantity. */
export function readQuantity(field: QuantityField, input: unknown): FieldReading {
  const { dimension, options } = field;
  if (typeof input !== 'string' && typeof input !== 'number') {
    return refuse(`expected ${expectedPhrase(dimension)}`, null);
  }
  const text = String(input);
  const read = parseQuantity(text, dimension);
  const guess = suggestUnit(text, dimension, field.minSi, field.maxSi);
  // The reason for an unknown unit names the nearest unit already.
  if (!read.ok) return refuse(read.reason, read.reason.includes('did you mean') ? null : guess);
  if (!isInRange(field, read.si)) return refuse(`expected ${rangeText(field)}`, guess);
  if (options.whole === true && !Number.isInteger(read.si)) return refuse('expected a whole number', null);
  return { ok: true, si: read.si };
}

/** A value of a field written as text, for messages. */
export function fieldText(field: QuantityField, si: number): string {
  return formatQuantity(si, field.dimension, unitNames(field.dimension)[0]!, 6);
}

/** Part of the published JSON Schema. */
export type SchemaPart = Readonly<Record<string, unknown>>;

/** JSON Schema of a quantity written as text. */
export function quantityTextSchema(dimension: Dimension): SchemaPart {
  return { type: 'string', maxLength: MAX_QUANTITY_LENGTH, pattern: quantityPattern(dimension) };
}

/** JSON Schema of what may be written; the range itself can be checked for bare numbers only. */
export function quantityJsonSchema(field: QuantityField): SchemaPart {
  const { dimension, options, minSi, maxSi } = field;
  const text = quantityTextSchema(dimension);
  const examples = [options.example ?? options.min];
  if (!isBare(dimension)) return { ...text, examples };
  const low = options.minInclusive === false ? { exclusiveMinimum: minSi } : { minimum: minSi };
  const type = options.whole === true ? 'integer' : 'number';
  return { anyOf: [text, { type, ...low, maximum: maxSi }], examples };
}

/** Description for the published schema, range included. */
export function describeField(field: QuantityField): string {
  return `${field.options.description} Range: ${rangeText(field)}.`;
}

/** Issue to add to a zod context for a problem of a field. */
export type FieldIssue = Readonly<{
  code: 'custom';
  message: string;
  path: PropertyKey[];
  params: FieldProblem;
}>;

/** A problem of a field as an issue; `params` carries its parts, the message joins them. */
export function fieldIssue(problem: FieldProblem): FieldIssue {
  const { path = [], allowed, suggestion } = problem;
  const message = suggestion === undefined ? allowed : `${allowed}; ${suggestion}`;
  return { code: 'custom', message, path: [...path], params: problem };
}
