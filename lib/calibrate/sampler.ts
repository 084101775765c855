import { diagnoseChains, type ChainDiagnostics } from './sampler-diagnostics.js';
import type { LogDensity } from './sampler-mode.js';
import type { BentReference } from './sampler-reference.js';
import { warmUp } from './sampler-warm-up.js';
import { SharedWork, type WorkOptions } from './sampler-work.js';

/** How much to sample. */
export interface SamplerOptions extends WorkOptions {
  /** Names the random streams. */
  readonly seed: string;
  /** Chains, 2 to 16; default 4. */
  readonly chains?: number | undefined;
  /** Effective size that each coordinate should reach; default 400. */
  readonly effectiveSize?: number | undefined;
  /** Most draws per chain before giving up; default 50 000. */
  readonly mostDraws?: number | undefined;
}

/** Draws of a posterior in the scores of its prior. */
export interface SampledPosterior {
  /** One array per chain; a draw is a row of scores. */
  readonly chains: readonly (readonly Float64Array[])[];
  /** By coordinate. */
  readonly diagnostics: readonly ChainDiagnostics[];
  /** True where every coordinate has the effective size asked for and an R-hat of at most {@link MOST_R_HAT}. */
  readonly converged: boolean;
  /** Share of the moves accepted. */
  readonly acceptedShare: number;
  /** Scores of the highest point found, and the logarithm of likelihood times prior there. */
  readonly mode: Float64Array;
  readonly modeLogDensity: number;
}

/** Largest R-hat with which chains are taken to agree; the authors of the figure advise 1.01 for final results. */
export const MOST_R_HAT = 1.02;
const DEFAULT_CHAINS = 4;
const DEFAULT_EFFECTIVE_SIZE = 400;
const DEFAULT_MOST_DRAWS = 50_000;
/** Draws per chain before the chains are judged. */
const FIRST_DRAWS = 500;
/** How far the draws may grow before the next look, and how much more than seems needed is drawn. */
const LEAST_GROWTH = 1.1;
const MOST_GROWTH = 2;
const RESERVE = 1.05;
/** While so many times the draws would be needed, they are used to better the reference law, and twice as many are drawn. */
const FAR_FROM = 2.5;
const MOST_LOOKS = 2;
const LOOK_GROWTH = 2;

/**
 * Draws from a posterior whose prior is standard normal in every coordinate.
 *
 * The mode and Laplace's approximation give a reference law, bent where the data tell that it must be; chains move by
 * preconditioned Crank-Nicolson steps about it (exact where the posterior is normal, as it is in all directions that the
 * data leave alone), mixed with random walks. Reference and boldness are set in a warm-up and then held, so that the
 * chains have the posterior as their law.
 *
 * @param dimension number of coordinates, 1 or more.
 * @param logLikelihood of the scores; -Infinity where the data are impossible, never NaN. It may tell figures: without
 *   them more evaluations are needed, and curved ridges are harder to follow.
 * @param options seed and size.
 * @returns the draws, converged or not.
 * @throws CancelledError when the signal fires.
 * @see Cotter, Roberts, Stuart and White, "MCMC methods for functions", Statistical Science 28 (2013); Rudolf and Sprungk,
 *   "On a generalization of the preconditioned Crank-Nicolson Metropolis algorithm" (2018); both from memory.
 */
export async function samplePosterior(
  dimension: number,
  logLikelihood: LogDensity,
  options: SamplerOptions,
): Promise<SampledPosterior> {
  const density: LogDensity = (z, figures) => {
    let squares = 0;
    for (const each of z) squares += each * each;
    return logLikelihood(z, figures) - 0.5 * squares;
  };
  const work = new SharedWork(options);
  const count = options.chains ?? DEFAULT_CHAINS;
  const start = new Float64Array(dimension);
  const { summit, references, chains, boldness } = await warmUp(density, start, count, options.seed, work);

  const wanted = options.effectiveSize ?? DEFAULT_EFFECTIVE_SIZE;
  const mostDraws = options.mostDraws ?? DEFAULT_MOST_DRAWS;
  let draws: Float64Array[][] = chains.map(() => []);
  let looks = 0;
  let mode = summit.at;
  let modeLogDensity = summit.value;
  for (let target = Math.min(FIRST_DRAWS, mostDraws); ;) {
    work.enter(1, count * (target - draws[0]!.length));
    for (const [c, chain] of chains.entries()) {
      const kept = draws[c]!;
      while (kept.length < target) {
        chain.step(references, boldness, kept.length);
        kept.push(chain.z);
        if (chain.logDensity > modeLogDensity) [mode, modeLogDensity] = [chain.z, chain.logDensity];
        await work.breath();
      }
    }
    const diagnostics: ChainDiagnostics[] = [];
    for (let i = 0; i < dimension; i++) {
      diagnostics.push(diagnoseChains(draws.map((rows) => Float64Array.from(rows, (row) => row[i]!))));
      await work.breath();
    }
    const smallest = Math.min(...diagnostics.map(({ effectiveSize }) => effectiveSize));
    const agree = diagnostics.every(({ rHat }) => rHat <= MOST_R_HAT);
    const converged = agree && smallest >= wanted;
    if (!converged && target < mostDraws) {
      if (references.length === 1 && looks < MOST_LOOKS && smallest * FAR_FROM < wanted) {
        // Far from done: the draws tell what a better reference law is. They then belong to the warm-up.
        looks++;
        const [reference] = references as readonly [BentReference];
        const sizes = diagnostics.map(({ effectiveSize }) => effectiveSize).sort((one, other) => one - other);
        reference.adapted.adapt(
          draws.flat().map((z) => reference.unadapted(z)),
          sizes[Math.floor(dimension / 2)]!,
        );
        for (const chain of chains) {
          chain.locate(reference);
          chain.accepted = chain.moves = 0;
        }
        draws = chains.map(() => []);
        target = Math.min(LOOK_GROWTH * target, mostDraws);
        continue;
      }
      const growth = Math.min(MOST_GROWTH, Math.max(LEAST_GROWTH, (RESERVE * wanted) / smallest));
      target = Math.min(Math.ceil(target * (agree ? growth : Math.max(growth, 1.3))), mostDraws);
      continue;
    }
    const moves = chains.reduce((sum, chain) => sum + chain.moves, 0);
    const acceptedShare = chains.reduce((sum, chain) => sum + chain.accepted, 0) / moves;
    return { chains: draws, diagnostics, converged, acceptedShare, mode, modeLogDensity };
  }
}
