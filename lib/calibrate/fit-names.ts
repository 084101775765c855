import { assumptionName, assumptionValueText } from '../scenario/assumption-words.js';
import { GROOVE_ERROR_PATH, PRESSURE_ERROR_PATH } from './likelihood.js';

/** Numbers that belong to the records, in words. */
const RECORD_NAMES: Readonly<Record<string, string>> = {
  [GROOVE_ERROR_PATH]: 'error of the groove readings',
  [PRESSURE_ERROR_PATH]: 'error of the pressure readings',
};

/**
 * True for a number that belongs to the records, such as the error of their readings, and not to the scenario.
 *
 * @param path as in a fit.
 */
export function isOfRecords(path: string): boolean {
  return Object.hasOwn(RECORD_NAMES, path);
}

/**
 * Short name of a fitted number in words: that of an assumption, or of a number that belongs to the records.
 *
 * @param path as in a fit.
 * @returns "sharp stones on gravel", "error of the groove readings".
 */
export function fittedName(path: string): string {
  return isOfRecords(path) ? RECORD_NAMES[path]! : assumptionName(path);
}

/**
 * A value of a fitted number in the unit in which people state it.
 *
 * @param path as in a fit.
 * @param si value, SI units; for an error of readings, how many times the stated one.
 * @returns "0.0999 mm3/J", "1.2 times that stated".
 */
export function fittedValueText(path: string, si: number): string {
  return isOfRecords(path) ? `${si.toPrecision(2)} times that stated` : assumptionValueText(path, si);
}

/**
 * A range of a fitted number, its unit once.
 *
 * @param path as in a fit.
 * @param low SI units.
 * @param high SI units.
 * @returns "0.09 to 0.12 mm3/J".
 */
export function fittedSpanText(path: string, low: number, high: number): string {
  const { numbers, unit } = sharedUnit([low, high].map((value) => fittedValueText(path, value)));
  return `${numbers.join(' to ')}${unit}`;
}

/**
 * The middle of a fitted number, and the range that holds it in eight cases of ten.
 *
 * @param path as in a fit.
 * @param middle SI units.
 * @param low tenth percentile, SI units.
 * @param high ninetieth percentile, SI units.
 * @returns "0.1 (0.09 to 0.12) mm3/J".
 */
export function fittedRangeText(path: string, middle: number, low: number, high: number): string {
  const { numbers, unit } = sharedUnit([middle, low, high].map((value) => fittedValueText(path, value)));
  const [at, from, to] = numbers;
  return `${at} (${from} to ${to})${unit}`;
}

/** Quantities as numbers, and the unit that all share, with its blank; powers of ten belong to the numbers. */
function sharedUnit(texts: readonly string[]): {
  readonly numbers: readonly string[];
  readonly unit: string;
} {
  const units = texts.map((text) => /^\S+(?: × 10\S+)?( .*)?$/.exec(text)?.[1] ?? '');
  const unit = units.every((each) => each === units[0]) ? units[0]! : '';
  return { numbers: texts.map((text) => text.slice(0, text.length - unit.length)), unit };
}
