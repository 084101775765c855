/** Which set-up is best on average, as far as the trials tell. */
import { nextExponential, openStream, streamKey } from '../random/stream.js';
import { winnersOf } from './winners.js';

/** What the Monte Carlo error leaves open about the means. */
export interface AverageStanding {
  /** Chance that the mean of each set-up is the best one, given the trials; they add to 1. */
  readonly chanceBest: readonly number[];
  /** What choosing each set-up would lose on average if another mean is the best one, in the unit of the figures. */
  readonly expectedLoss: readonly number[];
}

const MOST_GROUPS = 256;
const DRAWS = 1000;

/**
 * Weighs the trials anew many times and asks each time whose mean is best.
 *
 * The weights are exponential, one for each group of trials (the Bayesian bootstrap of Rubin, 1981; from memory), and
 * the same for all set-ups, so that what they share drops out. The mean that looks best is flattered by chance; the
 * expected loss of the set-up that has it is about that flattery.
 *
 * @param columns figures, one column per set-up, one row per trial; more is better.
 * @param seed of the run.
 */
export function standOnAverage(columns: readonly Float64Array[], seed: string): AverageStanding {
  const rows = columns[0]!.length;
  const groups = Math.min(rows, MOST_GROUPS);
  const starts = Array.from({ length: groups + 1 }, (_, group) => Math.floor((group * rows) / groups));
  const sums = columns.map((column) =>
    Float64Array.from({ length: groups }, (_, group) => {
      let sum = 0;
      for (let row = starts[group]!; row < starts[group + 1]!; row++) sum += column[row]!;
      return sum;
    }),
  );
  const stream = openStream(streamKey(seed, 'weights of trials', 0));
  const means = columns.map(() => new Float64Array(DRAWS));
  const weights = new Float64Array(groups);
  for (let draw = 0; draw < DRAWS; draw++) {
    let whole = 0;
    for (let group = 0; group < groups; group++) {
      const weight = nextExponential(stream);
      weights[group] = weight;
      whole += weight * (starts[group + 1]! - starts[group]!);
    }
    sums.forEach((sum, setup) => {
      let weighted = 0;
      for (let group = 0; group < groups; group++) weighted += weights[group]! * sum[group]!;
      means[setup]![draw] = weighted / whole;
    });
  }
  const { best, shares } = winnersOf(means);
  return {
    chanceBest: shares,
    expectedLoss: means.map(
      (values) => values.reduce((sum, value, draw) => sum + best[draw]! - value, 0) / DRAWS,
    ),
  };
}
