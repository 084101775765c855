import { standardNormalQuantile } from '../numeric/normal.js';

/** How well chains of draws stand for a law, for one quantity. */
export interface ChainDiagnostics {
  /** Scale by which the spread might still shrink: near 1 where the chains agree. */
  readonly rHat: number;
  /** Independent draws that the draws are worth. */
  readonly effectiveSize: number;
}

/** Halves of each chain; the middle draw of an odd chain is left out. */
function splitChains(chains: readonly Float64Array[]): Float64Array[] {
  return chains.flatMap((chain) => {
    const half = Math.floor(chain.length / 2);
    return [chain.slice(0, half), chain.slice(chain.length - half)];
  });
}

/** How many of ascending values are below a value, or up to it. */
function countBelow(sorted: Float64Array, value: number, orEqual: boolean): number {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    const each = sorted[middle]!;
    if (each < value || (orEqual && each === value)) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Values replaced by the normal scores of their ranks among all; ties share their mean rank. */
function normalScores(chains: readonly Float64Array[]): Float64Array[] {
  const sorted = sortedValues(chains);
  const scores = new Map<number, number>();
  return chains.map((chain) =>
    chain.map((value) => {
      let score = scores.get(value);
      if (score === undefined) {
        const rank = (countBelow(sorted, value, false) + countBelow(sorted, value, true) + 1) / 2;
        // Blom's plotting position.
        score = standardNormalQuantile((rank - 0.375) / (sorted.length + 0.25));
        scores.set(value, score);
      }
      return score;
    }),
  );
}

function sortedValues(chains: readonly Float64Array[]): Float64Array {
  const all = new Float64Array(chains.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const chain of chains) {
    all.set(chain, at);
    at += chain.length;
  }
  return all.sort();
}

function meanOf(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum / values.length;
}

/** Variance within the chains, and of all draws as estimated from within and between. */
function chainVariances(chains: readonly Float64Array[]): { within: number; total: number } {
  const n = chains[0]!.length;
  const means = Float64Array.from(chains, meanOf);
  const grand = meanOf(means);
  let within = 0;
  let between = 0;
  chains.forEach((chain, c) => {
    let squares = 0;
    for (const value of chain) squares += (value - means[c]!) * (value - means[c]!);
    within += squares / (n - 1) / chains.length;
    between += ((means[c]! - grand) * (means[c]! - grand)) / (chains.length - 1);
  });
  return { within, total: ((n - 1) / n) * within + between };
}

function rHatOf(chains: readonly Float64Array[]): number {
  const { within, total } = chainVariances(chains);
  return within > 0 ? Math.sqrt(total / within) : total > 0 ? Infinity : 1;
}

function folded(chains: readonly Float64Array[]): Float64Array[] {
  const all = sortedValues(chains);
  const middle = 0.5 * (all[Math.floor((all.length - 1) / 2)]! + all[Math.ceil((all.length - 1) / 2)]!);
  return chains.map((chain) => chain.map((value) => Math.abs(value - middle)));
}

/** Chains that still remember after so many draws are far from converged anyhow. */
const MOST_LAGS = 400;

/** Effective size by Geyer's initial monotone sequence over all chains. */
function effectiveSizeOf(chains: readonly Float64Array[]): number {
  const n = chains[0]!.length;
  const draws = n * chains.length;
  const { within, total } = chainVariances(chains);
  if (!(total > 0)) return draws;
  const means = chains.map(meanOf);
  const correlation = (lag: number): number => {
    let covariance = 0;
    chains.forEach((chain, c) => {
      const mean = means[c]!;
      let sum = 0;
      for (let i = 0; i + lag < n; i++) sum += (chain[i]! - mean) * (chain[i + lag]! - mean);
      covariance += sum / n / chains.length;
    });
    return 1 - (within * ((n - 1) / n) - covariance) / total;
  };
  let time = -1;
  let before = Infinity;
  for (let lag = 0; lag + 1 < Math.min(n, MOST_LAGS); lag += 2) {
    const pair = correlation(lag) + correlation(lag + 1);
    if (!(pair > 0)) break;
    before = Math.min(before, pair);
    time += 2 * before;
  }
  // Chains that swing from side to side may be worth more than their draws; no more than this is claimed.
  return draws / Math.max(time, 1);
}

/**
 * Convergence of chains: the larger of rank-normalised split R-hat and of the same for distances from the median, and
 * the smaller of the effective sizes of centre and tails.
 *
 * @param chains draws of one quantity, one array per chain of the same length, at least 4 draws each.
 * @returns 1 and the number of draws for a quantity that does not vary.
 * @see Vehtari, Gelman, Simpson, Carpenter and Buerkner, "Rank-normalization, folding, and localization: an improved
 *   R-hat", Bayesian Analysis 16 (2021); Geyer, "Practical Markov chain Monte Carlo" (1992); both from memory.
 */
export function diagnoseChains(chains: readonly Float64Array[]): ChainDiagnostics {
  const halves = splitChains(chains);
  const scores = normalScores(halves);
  const tailScores = normalScores(folded(halves));
  return {
    rHat: Math.max(rHatOf(scores), rHatOf(tailScores)),
    effectiveSize: Math.min(effectiveSizeOf(scores), effectiveSizeOf(tailScores)),
  };
}
