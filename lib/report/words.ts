import { seasonsText } from '../chart/figures.js';
import type { RiskEstimate } from '../estimate/martingale.js';
import { isOnlyBounded, type ThreeDoubts } from '../estimate/uncertainty.js';
import { percentText } from '../present/words.js';

/** A bound above this says nothing. */
const MOST_TELLING = 0.5;

/**
 * How often a season brings a flat, in words and as a percentage.
 *
 * @param risk chance of at least one in the season.
 * @returns for example "about 1 season in 40 (2.5 %)". Where no risk was met, the bound that the trials give: "fewer than
 *   1 season in 100".
 */
export function riskText({ estimate, upper }: RiskEstimate): string {
  if (estimate > 0) {
    const seasons = seasonsText(estimate);
    const about = /^\d/.test(seasons) ? 'about ' : '';
    return `${about}${seasons} (${percentText(estimate)})`;
  }
  if (upper > MOST_TELLING) return 'a share of seasons that so few trials cannot tell';
  return `fewer than 1 season in ${roundDown(1 / upper).toLocaleString('en-US')}`;
}

/** A number of 1 or more to two figures, never above it: the claim made with it stays true. */
function roundDown(value: number): number {
  let step = 1;
  while (value / step >= 100) step *= 10;
  return Math.floor(value / step) * step;
}

/**
 * A spread, to the two figures that it is good for.
 *
 * @param spread 0 or more.
 */
export function spreadText(spread: number): string {
  return Number(spread.toPrecision(2)).toLocaleString('en-US');
}

/**
 * Ignorance of a figure: "46", or "less than 46" where the trials tell no more; null if they tell nothing.
 *
 * @param doubts about the figure.
 */
export function ignoranceText({ ignorance, ignoranceAtMost }: ThreeDoubts): string | null {
  if (ignorance === null || ignoranceAtMost === null) return null;
  return isOnlyBounded(ignorance, ignoranceAtMost)
    ? `less than ${spreadText(ignoranceAtMost)}`
    : spreadText(ignorance);
}
