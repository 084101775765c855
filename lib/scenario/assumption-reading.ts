import { log } from '../numeric/elementary.js';
import { expectedPhrase, nearestName } from '../units.js';
import { fieldText, readQuantity, type FieldProblem, type QuantityField } from './quantity-field.js';
import { textProblem } from './text-field.js';

/** Forms of an assumption; "fixed" is written with `value`, the others with `distribution`. */
export type AssumptionKind = 'fixed' | 'lognormal' | 'normal' | 'uniform' | 'triangular';

/** What is known of a number that is not known exactly, in SI units. */
export interface Assumption {
  readonly kind: AssumptionKind;
  /** fixed: the value; lognormal: median; normal: mean; uniform and triangular: least value. */
  readonly a: number;
  /** lognormal: standard deviation of the logarithm; normal: standard deviation; uniform: greatest value; triangular: mode; fixed: 0. */
  readonly b: number;
  /** triangular: greatest value; otherwise 0. */
  readonly c: number;
  /** Least plausible value, from the range of the field; draws below are moved to it. */
  readonly lower: number;
  /** Greatest plausible value, from the range of the field; draws above are moved to it. */
  readonly upper: number;
  /** Where the numbers come from. */
  readonly source: string;
  /** Remark. */
  readonly note?: string;
}

/** Keys that state the numbers of each form, in rising order of the values. */
export const FORM_KEYS: Readonly<Record<AssumptionKind, readonly string[]>> = {
  fixed: ['value'],
  lognormal: ['p10', 'p90'],
  normal: ['p10', 'p90'],
  uniform: ['min', 'max'],
  triangular: ['min', 'mode', 'max'],
};

/** Names for the key `distribution`. */
export const DISTRIBUTIONS: readonly AssumptionKind[] = ['lognormal', 'normal', 'uniform', 'triangular'];

/** 0.9 quantile of the standard normal distribution, to double precision; p10 and p90 lie this far from the middle. */
const Z_P90 = 1.2815515655446004;

type Entries = Readonly<Record<string, unknown>>;

function didYouMean(name: string | null): { readonly suggestion?: string } {
  return name === null ? {} : { suggestion: `did you mean ${JSON.stringify(name)}?` };
}

function noForm(input: Entries): FieldProblem {
  const found = 'neither "value" nor "distribution"';
  const allowed = 'expected one of them';
  const misspelt = Object.keys(input).map((key) => nearestName(key, ['value', 'distribution']));
  const nearest = misspelt.find((name) => name !== null);
  if (nearest !== undefined) return { found, allowed, ...didYouMean(nearest) };
  const kind = DISTRIBUTIONS.find((name) => FORM_KEYS[name].some((key) => key in input));
  if (kind === undefined) return { found, allowed };
  return { found, allowed, suggestion: `add a distribution, such as "distribution": "${kind}"` };
}

function chooseKind(input: Entries): AssumptionKind | FieldProblem {
  const { value, distribution } = input;
  if (value !== undefined && distribution !== undefined) {
    return { path: ['distribution'], allowed: 'expected either "value" or "distribution", not both' };
  }
  if (value !== undefined) return 'fixed';
  if (distribution === undefined) return noForm(input);
  const kind = DISTRIBUTIONS.find((name) => name === distribution);
  if (kind !== undefined) return kind;
  const names = DISTRIBUTIONS.map((name) => `"${name}"`).join(', ');
  const nearest = typeof distribution === 'string' ? nearestName(distribution, DISTRIBUTIONS) : null;
  return { path: ['distribution'], allowed: `expected one of ${names}`, ...didYouMean(nearest) };
}

/** Tells keys that do not belong to the form; returns the missing keys they probably stand for. */
function tellUnknownKeys(kind: AssumptionKind, input: Entries, problems: FieldProblem[]): Set<string> {
  const numbers = FORM_KEYS[kind];
  const known = [...numbers, 'source', 'note', ...(kind === 'fixed' ? [] : ['distribution'])];
  const absent = known.filter((key) => input[key] === undefined);
  const meant = new Set<string>();
  for (const key of Object.keys(input)) {
    if (known.includes(key)) continue;
    const nearest = nearestName(key, absent);
    if (nearest !== null) meant.add(nearest);
    const what = kind === 'fixed' ? 'a fixed value' : `a ${kind} distribution`;
    const allowed = `${what} takes ${[...numbers, 'source', 'note'].join(', ')}`;
    problems.push({
      path: [key],
      found: `unknown key ${JSON.stringify(key)}`,
      allowed,
      ...didYouMean(nearest),
    });
  }
  return meant;
}

function tellTexts(input: Entries, meant: ReadonlySet<string>, problems: FieldProblem[]): void {
  const { source, note } = input;
  if (source === undefined) {
    const allowed = 'required: where the number comes from, or "assumption" with the reason';
    if (!meant.has('source')) problems.push({ path: ['source'], allowed });
  } else {
    const allowed = textProblem(source);
    if (allowed !== null) problems.push({ path: ['source'], allowed });
  }
  const allowed = note === undefined ? null : textProblem(note);
  if (allowed !== null) problems.push({ path: ['note'], allowed });
}

function readNumbers(
  field: QuantityField,
  kind: AssumptionKind,
  input: Entries,
  meant: ReadonlySet<string>,
  problems: FieldProblem[],
): readonly number[] | null {
  const numbers: number[] = [];
  for (const key of FORM_KEYS[kind]) {
    if (input[key] === undefined) {
      const allowed = `required: ${expectedPhrase(field.dimension)}`;
      if (!meant.has(key)) problems.push({ path: [key], allowed });
      continue;
    }
    const read = readQuantity(field, input[key]);
    if (read.ok) numbers.push(read.si);
    else problems.push({ ...read.problem, path: [key] });
  }
  return numbers.length === FORM_KEYS[kind].length ? numbers : null;
}

function orderProblem(
  field: QuantityField,
  kind: AssumptionKind,
  numbers: readonly number[],
): FieldProblem | null {
  const keys = FORM_KEYS[kind];
  const last = numbers.length - 1;
  for (let index = 1; index <= last; index++) {
    const [low, high] = [numbers[index - 1]!, numbers[index]!];
    // A mode may lie on either end, as long as the ends differ.
    if (kind === 'triangular' ? low > high : low >= high) {
      const allowed = `expected more than ${keys[index - 1]!} (${fieldText(field, low)})`;
      const swap =
        high < low ? `swap ${keys[index - 1]!} and ${keys[index]!}?` : 'use "value" for a fixed number';
      return { path: [keys[index]!], allowed, suggestion: swap };
    }
  }
  if (kind === 'triangular' && numbers[0] === numbers[last]) {
    const suggestion = 'use "value" for a fixed number';
    return {
      path: ['max'],
      allowed: `expected more than min (${fieldText(field, numbers[0]!)})`,
      suggestion,
    };
  }
  if (kind === 'lognormal' && numbers[0]! <= 0) {
    return { path: ['p10'], allowed: 'expected more than 0 in a lognormal distribution' };
  }
  return null;
}

function parameters(kind: AssumptionKind, numbers: readonly number[]): { a: number; b: number; c: number } {
  const [first, second = 0, third = 0] = numbers as readonly [number, number?, number?];
  if (kind === 'lognormal') {
    const b = (log(second) - log(first)) / (2 * Z_P90);
    return { a: Math.sqrt(first) * Math.sqrt(second), b, c: 0 };
  }
  if (kind === 'normal') return { a: (first + second) / 2, b: (second - first) / (2 * Z_P90), c: 0 };
  return { a: first, b: second, c: third };
}

/** An assumption as read, or everything that is wrong with it. */
export type AssumptionReading =
  | { readonly ok: true; readonly assumption: Assumption }
  | { readonly ok: false; readonly problems: readonly FieldProblem[] };

/**
 * Reads an assumption in any of its forms. The form is chosen by the keys, so that each slip gives one problem.
 *
 * A lognormal or normal distribution is given by its 10 % and 90 % quantiles: median = sqrt(p10 p90) and
 * sigma = ln(p90 / p10) / (2 z), or mean = (p10 + p90) / 2 and sd = (p90 - p10) / (2 z), with z the 0.9 quantile of
 * the standard normal distribution.
 */
export function readAssumption(field: QuantityField, input: unknown): AssumptionReading {
  if (typeof input !== 'object' || input === null || Array.isArray(input)) {
    const example = JSON.stringify({ value: field.options.example ?? field.options.min, source: '...' });
    return { ok: false, problems: [{ allowed: `expected an assumption such as ${example}` }] };
  }
  const entries = input as Entries;
  const problems: FieldProblem[] = [];
  const kind = chooseKind(entries);
  if (typeof kind === 'object') {
    problems.push(kind);
    tellTexts(entries, new Set(), problems);
    return { ok: false, problems };
  }
  const meant = tellUnknownKeys(kind, entries, problems);
  const numbers = readNumbers(field, kind, entries, meant, problems);
  const disorder = numbers === null ? null : orderProblem(field, kind, numbers);
  if (disorder !== null) problems.push(disorder);
  tellTexts(entries, meant, problems);
  if (problems.length > 0 || numbers === null) return { ok: false, problems };
  const note = typeof entries.note === 'string' ? { note: entries.note } : {};
  const range = { lower: field.minSi, upper: field.maxSi };
  const assumption = {
    kind,
    ...parameters(kind, numbers),
    ...range,
    source: entries.source as string,
    ...note,
  };
  return { ok: true, assumption };
}
