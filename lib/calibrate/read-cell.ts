import type { Problem } from '../problems.js';
import {
  expectedPhrase,
  formatQuantity,
  nearestName,
  parseQuantity,
  suggestUnit,
  unitNames,
} from '../units.js';
import { cellText } from './csv-table.js';
import { likelyIsoDate, dayOfDate } from './dates.js';
import type { ColumnSpec } from './table-columns.js';
import { properFraction } from './unit-words.js';

/** Unit of a column: that of the quantity, times a fraction for headers such as "1/32 in". */
export interface ColumnUnit {
  readonly name: string;
  readonly per: number;
}

/** A cell read, or what is wrong with it. */
export type CellReading =
  | { readonly ok: true; readonly value: string | number | null }
  | { readonly ok: false; readonly problem: Pick<Problem, 'found' | 'allowed' | 'suggestion'> };

/** Longest name in a cell. */
const LONGEST_NAME = 100;
/** What people write for "nothing": a blank cell says it without doubt. */
const WORDS_FOR_NOTHING = /^(?:-+|–|—|\?+|n\/?a|none|null|nan|nil|unknown|tbd|#n\/a)$/i;

function refuse(cell: string, allowed: string, suggestion?: string): CellReading {
  const problem = { found: cellText(cell), allowed };
  return { ok: false, problem: suggestion === undefined ? problem : { ...problem, suggestion } };
}

/** A list of words for a message: `"a", "b" or "c"`. */
export function choiceText(words: readonly string[]): string {
  const quoted = words.map((word) => JSON.stringify(word));
  return quoted.length < 2 ? quoted.join('') : `${quoted.slice(0, -1).join(', ')} or ${quoted.at(-1)!}`;
}

/** A suggestion of the nearest of some words, if any is near. */
export function didYouMean(word: string, words: readonly string[]): string | undefined {
  const nearest = nearestName(word, words);
  return nearest === null ? undefined : `did you mean ${JSON.stringify(nearest)}?`;
}

/**
 * The unit in a header or a mapping: "mm", "psi", "1/32 in".
 *
 * @returns the unit, or null where it is none of the dimension.
 */
export function readUnit(text: string, spec: ColumnSpec): ColumnUnit | null {
  const fraction = /^1\/(\d{1,4})\s+(\S.*)$/.exec(text);
  const per = fraction === null ? 1 : Number(fraction[1]);
  const name = fraction === null ? text : fraction[2]!;
  return per > 0 && parseQuantity(`1 ${name}`, spec.dimension!).ok ? { name, per } : null;
}

/** True for numbers that need no unit. */
export function isBare(spec: ColumnSpec): boolean {
  return spec.dimension !== undefined && unitNames(spec.dimension).includes('');
}

function bounds(spec: ColumnSpec): { min: number; max: number } {
  const si = (text: string): number => {
    const read = parseQuantity(text, spec.dimension!);
    if (!read.ok) throw new Error(`${text}: ${read.reason}`);
    return read.si;
  };
  return { min: si(spec.min!), max: si(spec.max!) };
}

function unitText({ name, per }: ColumnUnit): string {
  return per === 1 ? name : `1/${per} ${name}`;
}

/** A bound in the unit of the column. */
function boundText(si: number, spec: ColumnSpec, unit: ColumnUnit | null): string {
  if (unit === null || unit.name === '') return formatQuantity(si, spec.dimension!, '', 4);
  if (unit.per === 1) return formatQuantity(si, spec.dimension!, unit.name, 4);
  const [number] = formatQuantity(si * unit.per, spec.dimension!, unit.name, 4).split(' ');
  return `${number} x ${unitText(unit)}`;
}

/** In a column of 32nds, 7/32 is 7 to those who wrote it, and 7/1024 in to a parser. */
function refuseFraction(cell: string, pointed: string, unit: ColumnUnit): CellReading {
  const [, over, under] = /^(\d+)\s*\/\s*(\d+)$/.exec(pointed) ?? [];
  const number = Number(under) === unit.per ? `write ${over!}` : 'write a decimal number';
  const suggestion = `${number}, or give the column the unit ${JSON.stringify(unit.name)}`;
  return refuse(cell, `expected a number of ${unitText(unit)}, not a fraction`, suggestion);
}

function readNumber(
  cell: string,
  spec: ColumnSpec,
  unit: ColumnUnit | null,
  decimal: '.' | ',',
): CellReading {
  const dimension = spec.dimension!;
  const pointed = decimal === ',' ? cell.replace(',', '.') : cell;
  const text = unit === null || unit.name === '' ? pointed : `${pointed} ${unit.name}`;
  const read = parseQuantity(text, dimension);
  const inUnit = unit === null || unit.name === '' ? 'a number' : `a number of ${unitText(unit)}`;
  if (!read.ok || (decimal === ',' && cell.includes('.'))) {
    if (decimal === ',' && cell.includes('.')) {
      return refuse(cell, `expected ${inUnit} with a decimal comma`);
    }
    const alone = parseQuantity(pointed, dimension);
    if (alone.ok && unit !== null && unit.name !== '') {
      return refuse(cell, `expected ${inUnit}`, `write the number alone: the unit stands in the header`);
    }
    const suggestion = /^[+-]?\d+,\d+$/.test(cell)
      ? 'write a decimal point, or set "decimal": "," for this table'
      : undefined;
    const fraction = properFraction(pointed);
    return refuse(cell, `expected ${inUnit}`, fraction === null ? suggestion : `write ${fraction}`);
  }
  if (unit !== null && unit.per > 1 && pointed.includes('/')) return refuseFraction(cell, pointed, unit);
  const si = read.si / (unit?.per ?? 1);
  const { min, max } = bounds(spec);
  if (si < min || si > max) {
    // A value that brings its own unit is held against the range as it is written down.
    const range =
      unit === null && !isBare(spec)
        ? `${spec.min!} to ${spec.max!}`
        : `${boundText(min, spec, unit)} to ${boundText(max, spec, unit)}`;
    const allowed = `expected ${range}`;
    const other = suggestUnit(pointed, dimension, min, max);
    const suggestion =
      other === null || unit === null || unit.name === '' || min * si < 0
        ? undefined
        : `the header says ${unitText(unit)}: was it ${other}?`;
    return refuse(cell, allowed, suggestion);
  }
  if (spec.whole === true && !Number.isInteger(si)) return refuse(cell, 'expected a whole number');
  return { ok: true, value: si };
}

/**
 * Reads a cell.
 *
 * @param cell text without blanks around it.
 * @param spec what the column may hold.
 * @param unit unit of the column, for numbers.
 * @param decimal decimal sign.
 * @param words what words of the log mean in this column.
 * @returns text, an SI number, a day number, null for a blank cell; or what is wrong.
 */
export function readCell(
  cell: string,
  spec: ColumnSpec,
  unit: ColumnUnit | null,
  decimal: '.' | ',',
  words: ReadonlyMap<string, string>,
): CellReading {
  if (cell === '') {
    return spec.required ? refuse(cell, expectedOf(spec, unit)) : { ok: true, value: null };
  }
  const meant = words.get(cell) ?? cell;
  switch (spec.kind) {
    case 'name':
      if (meant.length > LONGEST_NAME) return refuse(cell, `expected at most ${LONGEST_NAME} characters`);
      return { ok: true, value: meant };
    case 'word': {
      if (spec.words!.includes(meant)) return { ok: true, value: meant };
      const suggestion = didYouMean(meant, spec.words!) ?? blankFor(cell, spec);
      return refuse(cell, expectedOf(spec, unit), suggestion);
    }
    case 'day': {
      const day = dayOfDate(cell);
      if (day !== null) return { ok: true, value: day };
      const iso = likelyIsoDate(cell);
      return refuse(
        cell,
        expectedOf(spec, unit),
        iso === null ? blankFor(cell, spec) : `did you mean ${iso}?`,
      );
    }
    case 'number': {
      const read = readNumber(cell, spec, unit, decimal);
      const blank = blankFor(cell, spec);
      if (read.ok || blank === undefined) return read;
      return refuse(cell, read.problem.allowed, blank);
    }
  }
}

function blankFor(cell: string, spec: ColumnSpec): string | undefined {
  return !spec.required && WORDS_FOR_NOTHING.test(cell)
    ? 'leave the cell blank where nothing is known'
    : undefined;
}

function expectedOf(spec: ColumnSpec, unit: ColumnUnit | null): string {
  switch (spec.kind) {
    case 'name':
      return 'expected a name';
    case 'word':
      return `expected ${choiceText(spec.words!)}`;
    case 'day':
      return 'expected a date such as 2024-05-31';
    case 'number':
      return unit === null || unit.name === ''
        ? `expected ${expectedPhrase(spec.dimension!)}`
        : `expected a number of ${unitText(unit)}`;
  }
}
