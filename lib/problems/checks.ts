import { UsageError } from './errors.js';

/**
 * A whole number given by a caller.
 *
 * @param name what the caller knows it by.
 * @param value what was given.
 * @param least smallest that is allowed.
 * @param most largest that is allowed.
 * @returns the value.
 * @throws UsageError if it is out of range or not whole.
 */
export function wholeNumber(name: string, value: number, least: number, most: number): number {
  if (Number.isSafeInteger(value) && value >= least && value <= most) return value;
  throw new UsageError(`${name} is ${value}; it must be a whole number from ${least} to ${most}`);
}

/**
 * A level, chance or share given by a caller that may be neither 0 nor 1.
 *
 * @param name what the caller knows it by.
 * @param value what was given.
 * @returns the value.
 * @throws UsageError if it is out of range.
 */
export function properShare(name: string, value: number): number {
  if (value > 0 && value < 1) return value;
  throw new UsageError(`${name} is ${value}; it must lie between 0 and 1`);
}
