import { amountText, withCommas } from '../present/amounts.js';
import { percentText } from '../present/words.js';

export { amountText };

/** A whole number with commas between thousands. */
function wholeText(value: number): string {
  return withCommas(value.toFixed(0));
}

/**
 * A span of amounts: "950 to 1,940".
 *
 * @param from its lower end.
 * @param to its upper end; null if it lies beyond what was looked at.
 */
export function spanText(from: number | null, to: number | null): string {
  if (from === null) return 'beyond the horizon';
  return `${amountText(from)} to ${to === null ? 'beyond the horizon' : amountText(to)}`;
}

/**
 * A span of shares: "0.15 to 0.48 %".
 *
 * @param from 0 to 1.
 * @param to 0 to 1.
 */
export function percentSpan(from: number, to: number): string {
  const [low, high] = [percentText(from), percentText(to)];
  return low === high ? low : `${low.replace(' %', '')} to ${high}`;
}

/** From this chance on, seasons are counted in tenths; below, one in so many is the plainer figure. */
const COUNT_IN_TENTHS = 0.35;
const NEARLY_ALL = 0.95;
const LEAST_TOLD = 1e-6;

/**
 * A chance as people say it: "1 in 330", "7 in 10".
 *
 * @param chance 0 to 1.
 */
export function oneInText(chance: number): string {
  if (chance <= 0) return 'none';
  if (chance < LEAST_TOLD) return 'under 1 in 1,000,000';
  if (chance >= NEARLY_ALL) return 'nearly all';
  if (chance >= COUNT_IN_TENTHS) return `${Math.round(10 * chance)} in 10`;
  const often = 1 / chance;
  return `1 in ${wholeText(often < 10 ? often : Number(often.toPrecision(2)))}`;
}

/**
 * How many seasons have a flat, as a part of a sentence: "1 season in 330".
 *
 * @param chance chance of a flat in a season, 0 to 1.
 */
export function seasonsText(chance: number): string {
  const text = oneInText(chance);
  if (text === 'none') return 'no season';
  if (text === 'nearly all') return 'nearly every season';
  return text.replace('1 in ', '1 season in ').replace(/^(\d+) in 10$/, '$1 seasons in 10');
}
