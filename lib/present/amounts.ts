import type { QuantileInterval } from '../estimate/quantile-interval.js';
import { figureText } from './words.js';

/**
 * An amount with about three meaningful figures and commas between thousands.
 *
 * @param value the number; null prints as a dash.
 */
export function amountText(value: number | null): string {
  const [whole = '', ...rest] = figureText(value).split('.');
  return [withCommas(whole), ...rest].join('.');
}

/** A number of digits with commas between thousands. */
export function withCommas(digits: string): string {
  return digits.replace(/\B(?=(\d{3})+$)/g, ',');
}

/**
 * A sum of money or another amount that need not be exact: rounded to what its error leaves standing.
 *
 * @param value the amount.
 * @param standardError its error; 0 rounds to three figures.
 */
export function roundedText(value: number, standardError: number): string {
  if (standardError <= 0 || !Number.isFinite(standardError)) return amountText(value);
  // The last figure counts less than half of the error.
  const place = Math.floor(Math.log10(standardError / 2));
  const step = 10 ** place;
  const decimals = Math.max(0, -place);
  // Adding 0 turns -0 into 0.
  const [whole = '', ...rest] = (Math.round(value / step) * step + 0).toFixed(decimals).split('.');
  return [withCommas(whole), ...rest].join('.');
}

/**
 * A difference with its sign: "+120", "-35", "0".
 *
 * @param value the difference.
 * @param standardError its error.
 */
export function signedText(value: number, standardError = 0): string {
  const text = roundedText(value, standardError);
  return value > 0 && /[1-9]/.test(text) ? `+${text}` : text;
}

/** An interval of differences: "-20 to +250". */
export function signedSpan({
  lower,
  upper,
  standardError,
}: {
  readonly lower: number;
  readonly upper: number;
  readonly standardError: number;
}): string {
  return `${signedText(lower, standardError)} to ${signedText(upper, standardError)}`;
}

/** An interval of amounts: "780 to 1,100". */
export function roundedSpan({
  lower,
  upper,
  standardError,
}: {
  readonly lower: number;
  readonly upper: number;
  readonly standardError: number;
}): string {
  return `${roundedText(lower, standardError)} to ${roundedText(upper, standardError)}`;
}

/** A count, whole: "1,312"; null prints as a dash. */
export function wholeText(count: number | null): string {
  return count === null ? '-' : withCommas(count.toFixed(0));
}

/** A number, one decimal at most, and what is counted: "1 landing", "1,312 landings", "14.5 days". */
export function countedText(count: number, noun: string): string {
  const [whole = '', ...decimals] = String(Number(count.toFixed(1)) + 0).split('.');
  const number = [withCommas(whole), ...decimals].join('.');
  return `${number} ${noun}${number === '1' ? '' : 's'}`;
}

/**
 * Time within which something must be done, h, rounded down: what is said lies inside it. "352", "9.4".
 *
 * @param hours 0 or more.
 */
export function withinText(hours: number): string {
  const decimals = hours >= 100 ? 0 : hours >= 10 ? 1 : 2;
  // A hair more, so that 9.4 in binary is not told as 9.39.
  const whole = Math.floor(hours * 10 ** decimals * (1 + 1e-12));
  return amountText(whole / 10 ** decimals);
}

/** A quantile, rounded to what its 95 % interval leaves standing. */
export function quantileText({ estimate, lower, upper }: QuantileInterval): string {
  return roundedText(estimate, lower === null || upper === null ? 0 : (upper - lower) / 4);
}
