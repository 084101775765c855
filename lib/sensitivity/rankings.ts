/** Set-ups in order, and whether the first one changes. */
import { differencesOf } from '../estimate/paired.js';
import type { Anchor } from './common-run.js';
import { isCriterion, type OpenScope } from './figures.js';
import type { RankingEffect } from './one-at-a-time-types.js';

/**
 * Rankings with an assumption low and high.
 *
 * @param scope set-ups and figures.
 * @param base columns by set-up and figure of a plain run.
 * @param low columns by set-up and figure with the assumption low.
 * @param high the same with it high.
 * @param anchors by figure: how means are taken, with intervals at the level that tells two set-ups apart.
 * @param lead places of two set-ups whose lead is watched; default: best and next of the plain run.
 */
export function rankings(
  scope: OpenScope,
  base: readonly Float64Array[],
  low: readonly Float64Array[],
  high: readonly Float64Array[],
  anchors: readonly Anchor[],
  lead?: readonly [number, number],
): RankingEffect[] {
  if (scope.setups.length < 2) return [];
  return scope.readers.flatMap(({ figure, better }, at) => {
    if (!isCriterion(figure)) return [];
    const anchor = anchors[at]!;
    const sign = better === 'more' ? 1 : -1;
    const columnsOf = (side: readonly Float64Array[]): Float64Array[] =>
      scope.setups.map((_, setup) => side[setup * scope.readers.length + at]!);
    const [lowColumns, highColumns] = [columnsOf(low), columnsOf(high)];
    const [lowOrder, highOrder] = [orderOf(lowColumns, sign, anchor), orderOf(highColumns, sign, anchor)];
    const [bestLow, bestHigh] = [lowOrder[0]!, highOrder[0]!];
    const ahead = (columns: readonly Float64Array[], one: number, other: number): boolean => {
      const lead = anchor.difference(columns[one]!, columns[other]!);
      return sign > 0 ? lead.lower > 0 : lead.upper < 0;
    };
    const flips =
      bestLow === bestHigh
        ? 'no'
        : ahead(lowColumns, bestLow, bestHigh) && ahead(highColumns, bestHigh, bestLow)
          ? 'yes'
          : 'perhaps';
    const [first, second] = lead ?? (orderOf(columnsOf(base), sign, anchor) as [number, number]);
    const gains = (columns: readonly Float64Array[], setup: number): Float64Array =>
      columns[setup]!.map((value) => sign * value);
    const leadOf = (columns: readonly Float64Array[]): Float64Array =>
      differencesOf(gains(columns, first), gains(columns, second));
    return [
      {
        criterion: figure,
        orderAtLow: lowOrder.map((setup) => scope.setups[setup]!),
        orderAtHigh: highOrder.map((setup) => scope.setups[setup]!),
        choiceFlips: flips,
        ahead: scope.setups[first]!,
        behind: scope.setups[second]!,
        leadAtLow: anchor.difference(gains(lowColumns, first), gains(lowColumns, second)),
        leadAtHigh: anchor.difference(gains(highColumns, first), gains(highColumns, second)),
        leadChange: anchor.difference(leadOf(highColumns), leadOf(lowColumns)),
      },
    ];
  });
}

/** Set-ups from best to worst mean; ties in the order of the file. */
export function orderOf(columns: readonly Float64Array[], sign: number, anchor: Anchor): number[] {
  const means = columns.map((column) => sign * anchor.mean(column).estimate);
  return means.map((_, setup) => setup).sort((one, other) => means[other]! - means[one]! || one - other);
}
