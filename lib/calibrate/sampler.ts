import { setImmediate as breathe } from 'node:timers/promises';
import { log } from '../numeric/elementary.js';
import { normalFromUniform } from '../numeric/normal.js';
import { CancelledError } from '../problems.js';
import { nextUniform, openStream, streamKey, type Stream } from '../random/stream.js';
import { diagnoseChains, type ChainDiagnostics } from './sampler-diagnostics.js';
import { laplaceFit, type LogDensity } from './sampler-mode.js';
import { BentReference } from './sampler-reference.js';

/** How much to sample. */
export interface SamplerOptions {
  /** Names the random streams. */
  readonly seed: string;
  /** Chains, 2 to 16; default 4. */
  readonly chains?: number | undefined;
  /** Effective size that each coordinate should reach; default 400. */
  readonly effectiveSize?: number | undefined;
  /** Most draws per chain before giving up; default 50 000. */
  readonly mostDraws?: number | undefined;
  /** Called now and then: share of the least work that is done, 0 to 1. */
  readonly onProgress?: ((doneShare: number) => void) | undefined;
  /** Stops the work. */
  readonly signal?: AbortSignal | undefined;
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
const STEPS_PER_ROUND = 60;
const FIRST_DRAWS = 1000;
/** Chains start this many standard deviations about the mode. */
const START_SPREAD = 1.5;
/** How bold moves about the reference law are: 1 draws afresh from it. */
const BOLDEST = 0.98;
const FIRST_ROUNDS: readonly number[] = [0.5, 0.7, 0.5];
const CANDIDATES: readonly number[] = [BOLDEST, 0.85, 0.65, 0.45, 0.3, 0.2, 0.12];
const WARM_UP_ROUNDS = 2 * FIRST_ROUNDS.length + 1 + CANDIDATES.length;
/** Where fewer of the boldest moves are accepted, the posterior is bent: the reference law is then bent too. */
const BENT_BELOW = 0.55;
/**
 * Of so many moves one is a random walk along a few of the axes that the data tell, which needs no reference law to be
 * right, and one is timid: timid moves lead out of places where bold ones are refused.
 */
const MOVES = 6;
const WALK_DIRECTIONS = 2;
const TIMID = 0.3;
const STEPS_PER_BREATH = 200;

/** One chain: where it is, and its own stream. */
class Chain {
  readonly stream: Stream;
  /** Position relative to the reference law. */
  readonly u: Float64Array;
  z: Float64Array;
  logDensity: number;
  accepted = 0;
  moves = 0;
  private readonly density: LogDensity;

  constructor(density: LogDensity, stream: Stream, reference: BentReference) {
    this.density = density;
    this.stream = stream;
    this.u = new Float64Array(reference.mean.length);
    for (let i = 0; i < this.u.length; i++) this.u[i] = START_SPREAD * this.normal();
    this.z = reference.place(this.u);
    this.logDensity = density(this.z);
    // A start where the likelihood is nothing would never move.
    for (let shrink = 0; shrink < 40 && this.logDensity === -Infinity; shrink++) {
      for (let i = 0; i < this.u.length; i++) this.u[i]! *= 0.7;
      this.z = reference.place(this.u);
      this.logDensity = density(this.z);
    }
  }

  private normal(): number {
    return normalFromUniform(nextUniform(this.stream));
  }

  /** Finds its coordinates again after the reference law has changed. */
  rebase(reference: BentReference): void {
    this.u.set(reference.locate(this.z));
  }

  /**
   * A step of a preconditioned Crank-Nicolson walk about the reference law: reversible for that law, so that only what
   * the posterior differs from it counts for acceptance, whatever the dimension.
   */
  autoregress(reference: BentReference, boldness: number): boolean {
    const kept = Math.sqrt(1 - boldness * boldness);
    const { spreads } = reference;
    const proposal = this.u.map((each, i) => kept * each + boldness * spreads[i]! * this.normal());
    const weight = (u: Float64Array): number => {
      let squares = 0;
      for (let i = 0; i < u.length; i++) squares += (u[i]! * u[i]!) / (spreads[i]! * spreads[i]!);
      return squares / 2;
    };
    return this.decide(reference, proposal, weight(proposal) - weight(this.u));
  }

  /** A step of a random walk along a few of the axes that the data tell. */
  walk(reference: BentReference): boolean {
    const { walked } = reference;
    const directions = Math.min(walked.length, WALK_DIRECTIONS);
    const length = 2.4 / Math.sqrt(directions);
    const proposal = Float64Array.from(this.u);
    for (let k = 0; k < directions; k++) {
      const i = walked[Math.floor(nextUniform(this.stream) * walked.length)]!;
      proposal[i]! += length * this.normal();
    }
    return this.decide(reference, proposal, 0);
  }

  private decide(reference: BentReference, proposal: Float64Array, logCorrection: number): boolean {
    const z = reference.place(proposal);
    const logDensity = this.density(z);
    const uniform = nextUniform(this.stream);
    const accepted = log(uniform > 0 ? uniform : 1e-10) < logDensity - this.logDensity + logCorrection;
    this.moves++;
    if (!accepted) return false;
    this.accepted++;
    this.u.set(proposal);
    this.z = z;
    this.logDensity = logDensity;
    return true;
  }
}

/** Moves a chain; returns whether a bold move was accepted, null for the other moves. */
function step(chain: Chain, reference: BentReference, boldness: number, n: number): boolean | null {
  const kind = n % MOVES;
  if (kind === 0) {
    chain.walk(reference);
    return null;
  }
  if (kind === MOVES / 2) {
    chain.autoregress(reference, TIMID * boldness);
    return null;
  }
  return chain.autoregress(reference, boldness);
}

/**
 * Draws from a posterior whose prior is standard normal in every coordinate.
 *
 * The mode and Laplace's approximation give a reference law; chains move by preconditioned Crank-Nicolson steps about it
 * (exact where the posterior is normal, as it is in all directions that the data leave alone), mixed with random walks.
 * Reference and boldness are set in a warm-up and then held, so that the chains have the posterior as their law.
 *
 * @param dimension number of coordinates, 1 or more.
 * @param logLikelihood of the scores; -Infinity where the data are impossible, never NaN.
 * @param options seed and size.
 * @returns the draws, converged or not.
 * @throws CancelledError when the signal fires.
 * @see Cotter, Roberts, Stuart and White, "MCMC methods for functions", Statistical Science 28 (2013); Rudolf and Sprungk,
 *   "On a generalization of the preconditioned Crank-Nicolson Metropolis algorithm" (2018); both from memory.
 */
export async function samplePosterior(
  dimension: number,
  logLikelihood: (scores: Float64Array) => number,
  options: SamplerOptions,
): Promise<SampledPosterior> {
  const density: LogDensity = (z) => {
    let squares = 0;
    for (const each of z) squares += each * each;
    return logLikelihood(z) - 0.5 * squares;
  };
  const laplace = laplaceFit(density, [new Float64Array(dimension)]);
  const reference = new BentReference(laplace);
  const count = options.chains ?? DEFAULT_CHAINS;
  const chains = Array.from(
    { length: count },
    (_, c) => new Chain(density, openStream(streamKey(options.seed, 'posterior chain', c)), reference),
  );
  let steps = 0;
  const leastSteps = count * (WARM_UP_ROUNDS * STEPS_PER_ROUND + FIRST_DRAWS);
  const breath = async (): Promise<void> => {
    if (++steps % STEPS_PER_BREATH !== 0) return;
    await breathe();
    if (options.signal?.aborted === true) throw new CancelledError('the fit was stopped before it finished');
    options.onProgress?.(Math.min(1, steps / leastSteps));
  };
  /** Lets all chains move with some boldness; returns the share of such moves that was accepted. */
  const round = async (boldness: number): Promise<number> => {
    let accepted = 0;
    let tried = 0;
    for (const chain of chains) {
      for (let n = 0; n < STEPS_PER_ROUND; n++) {
        const moved = step(chain, reference, boldness, n);
        if (moved !== null) tried++;
        if (moved === true) accepted++;
        await breath();
      }
    }
    return accepted / tried;
  };
  for (const boldness of FIRST_ROUNDS) await round(boldness);
  if ((await round(BOLDEST)) < BENT_BELOW) {
    await reference.trace(density, breath);
    await reference.bend(density, breath);
    for (const chain of chains) chain.rebase(reference);
    for (const boldness of FIRST_ROUNDS) await round(boldness);
  }
  let boldness = BOLDEST;
  let furthest = -1;
  for (const candidate of CANDIDATES) {
    // Mean square of how far a move leads, in the coordinates of the reference law.
    const reach = (await round(candidate)) * (1 - Math.sqrt(1 - candidate * candidate));
    if (reach > furthest) [furthest, boldness] = [reach, candidate];
  }
  for (const chain of chains) {
    chain.accepted = 0;
    chain.moves = 0;
  }

  const wanted = options.effectiveSize ?? DEFAULT_EFFECTIVE_SIZE;
  const mostDraws = options.mostDraws ?? DEFAULT_MOST_DRAWS;
  const draws: Float64Array[][] = chains.map(() => []);
  let mode = laplace.mean;
  let modeLogDensity = laplace.logDensity;
  for (
    let target = Math.min(FIRST_DRAWS, mostDraws);
    ;
    target = Math.min(Math.ceil(1.5 * target), mostDraws)
  ) {
    for (const [c, chain] of chains.entries()) {
      const kept = draws[c]!;
      while (kept.length < target) {
        step(chain, reference, boldness, kept.length);
        kept.push(chain.z);
        if (chain.logDensity > modeLogDensity) [mode, modeLogDensity] = [chain.z, chain.logDensity];
        await breath();
      }
    }
    const diagnostics = Array.from({ length: dimension }, (_, i) =>
      diagnoseChains(draws.map((rows) => Float64Array.from(rows, (row) => row[i]!))),
    );
    const converged = diagnostics.every(
      ({ rHat, effectiveSize }) => rHat <= MOST_R_HAT && effectiveSize >= wanted,
    );
    if (!converged && target < mostDraws) continue;
    const moves = chains.reduce((sum, chain) => sum + chain.moves, 0);
    const acceptedShare = chains.reduce((sum, chain) => sum + chain.accepted, 0) / moves;
    return { chains: draws, diagnostics, converged, acceptedShare, mode, modeLogDensity };
  }
}
